"""Where the computing packages meet on one record; pure: no file, no clock, no terminal."""
