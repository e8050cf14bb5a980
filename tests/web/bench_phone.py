"""An invented phone as it is taken apart at the bench, and the file that says the same."""

from __future__ import annotations

# One row a move: what was done, to what, and what else is filled in on the page.
MOVES = (
    ("heat", "Back cover", {"seconds": "120"}),
    ("pry", "Back cover", {"seconds": "60"}),
    ("lift", "Back cover", {"seconds": "4"}),
    (
        "unscrew",
        "Mid cover",
        {"count-screw": "6", "drive": "hexalobular 4", "length_mm": "3", "seconds": "40"},
    ),
    ("lift", "Mid cover", {"seconds": "5"}),
    ("unplug", "Battery", {"to-plug": "Main board", "seconds": "5"}),
    ("peel", "Battery", {"seconds": "30"}),
    ("lift", "Battery", {"seconds": "6"}),
    (
        "unscrew",
        "Main board",
        {"count-screw": "2", "drive": "hexalobular 4", "length_mm": "2", "seconds": "14"},
    ),
    ("lift", "Main board", {"seconds": "8"}),
    ("unclip", "Loudspeaker", {"count-clip": "2", "seconds": "10"}),
    ("lift", "Loudspeaker", {"seconds": "4"}),
)

FILE = """
format = 1

[device]
name = "Plover"
kind = "phone"
body = "chassis"
note = "Invented scenario: no such device exists."

[[parts]]
id = "chassis"
name = "Frame"

[[parts]]
id = "cover"
name = "Back cover"
role = "back_cover"
lift = { seconds = 4 }

[[parts]]
id = "plate"
name = "Mid cover"
lift = { seconds = 5 }

[[parts]]
id = "cell"
name = "Battery"
role = "battery"
lift = { seconds = 6 }

[[parts]]
id = "board"
name = "Main board"
role = "main_board"
lift = { seconds = 8 }

[[parts]]
id = "speaker"
name = "Loudspeaker"
role = "speaker"
lift = { seconds = 4 }

[[joints]]
id = "cover-tape"
kind = "adhesive"
holds = ["cover", "chassis"]
work = [
  { do = "heat", with = ["heating mat"], seconds = 120 },
  { do = "pry", with = ["opening pick"], seconds = 60 },
]

[[joints]]
id = "plate-screws"
kind = "screw"
holds = ["plate", "chassis"]
behind = ["cover"]
work = [{ do = "unscrew", with = ["hexalobular 4 driver"], seconds = 40 }]
count = 6
drive = "hexalobular 4"
length_mm = 3

[[joints]]
id = "cell-plug"
kind = "connector"
holds = ["cell", "board"]
tether = true
behind = ["plate"]
work = [{ do = "unplug", with = ["spudger"], seconds = 5 }]

[[joints]]
id = "cell-tape"
kind = "adhesive"
holds = ["cell", "chassis"]
behind = ["plate"]
work = [{ do = "peel", with = ["tweezers"], seconds = 30 }]

[[joints]]
id = "board-screws"
kind = "screw"
holds = ["board", "chassis"]
behind = ["cell"]
work = [{ do = "unscrew", with = ["hexalobular 4 driver"], seconds = 14 }]
count = 2
drive = "hexalobular 4"
length_mm = 2

[[joints]]
id = "speaker-clips"
kind = "clip"
holds = ["speaker", "chassis"]
behind = ["board"]
work = [{ do = "unclip", with = ["prying lever"], seconds = 10 }]
count = 2
"""
