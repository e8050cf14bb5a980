"""`python -m midframe` is the command `midframe`."""

from midframe.cli import main

if __name__ == "__main__":
    main(prog_name="midframe")
