# A whole device published: overview, screws, way back, index, lists, chapters, photos.
site-overview = Overview
site-pages = Pages
site-instructions = Other instructions
site-before = Before:
site-after = Next:
site-provenance = From record { $record } with { $program }{ $dated }.
site-local-rules = Local rules and licensed practice go before everything here. Cautions stand in every instruction and at the moves they are about.
site-device =
    { $kind ->
        [tablet] tablet
       *[phone] phone
    }
site-foldable = foldable { $kind }
site-kind = Kind
site-size = Size
site-size-order = height, width, thickness
site-mass = Mass
site-ingress = Ingress protection
site-parts-joints = Made of
site-of-parts =
    { $joints ->
        [one] { $parts } parts, { $joints } joint
       *[other] { $parts } parts, { $joints } joints
    }
site-of-screws =
    { $screws ->
        [one] { $screws } screw
       *[other] { $screws } screws of { $kinds ->
            [one] { $kinds } kind
           *[other] { $kinds } kinds
        }
    }
site-index-eu = EU repairability index
site-not-legal-advice = A finding from the data given, not legal advice.
site-class-none = none
site-index-value = { $index } of 5, class { $letter }
site-index-range = { $low } to { $high } of 5, values missing: { $missing }
site-index-undefined = no score defined

site-ways = Ways in
site-ways-note = Steps as the regulation counts them. Time is the sum of medians, with the range of nine times in ten. Cost is labour, renewals and expected breakage, without the part itself.
site-priority-only =
    { $count ->
        [one] Only the part that the index asks for: { $count }.
       *[other] Only the parts that the index asks for: { $count }.
    }
site-minutes-range = { $minutes } min ({ $low } to { $high })
site-no-way = no way in: { $reason }
site-assumed-moves =
    { $count ->
        [one] { $count } move assumed
       *[other] { $count } moves assumed
    }
site-default-times = mostly default times

site-head =
    { $of ->
        [part] Part
        [steps] Steps
        [time] Time
        [moves] Moves
        [cost] Cost
        [tools] Tools
        [rests] Rests on
        [kind] Kind
        [screw] Screw
        [count] Count
        [cover] Cover
        [torque] Torque
        [score] Score
        [points] Points
        [weight] Weight
        [clause] Clause
        [depth] Depth
        [fasteners] Fasteners
        [decides] What decides
        [role] Role
        [mass] Mass
        [spare] Spare
        [price] Price
        [tool] Tool
        [group] Group
        [for] For the way to
        [item] Item
        [joint] For
        [amount] Amount
        [begins] Begins
        [ends] Ends
       *[chapter] Chapter
    }

site-contents = What is here
site-about-screws = by kind and by cover, torque, what goes wrong in which hole
site-about-screw-sheet = every hole at its place, at true scale; print at 100 %, without margins
site-about-refit = the whole device put together again
site-about-index = every number with its clause, line by line
site-about-lists = parts, tools, consumables, what must be new; also as CSV
site-about-chapters = when each move of the log begins, for a recording of it
site-about-photos =
    { $count ->
        [one] { $count } photo
       *[other] { $count } photos
    }
site-about-markdown = the same pages as text
site-about-record = what all of this was computed from
site-markdown = Markdown
site-record = The record

site-screws = Screws
site-tally =
    { $screws ->
        [one] { $screws } screw.
       *[other] { $screws } screws of { $kinds ->
            [one] { $kinds } kind
           *[other] { $kinds } kinds
        }, in { $groups ->
            [one] { $groups } group
           *[other] { $groups } groups
        }.
    }
site-by-kind = By kind
site-by-cover = By cover
site-torque-record = { $torque } (record)
site-torque-series = { $torque } (series { $series } [{ $source }])
site-wrong-hole = Wrong hole
site-wrong-cases =
    { $grave ->
        [yes] What harms something beneath or jams: { $count }.
       *[no] Milder: too short, another thread, or longer within the depth of the hole: { $count }.
    }
site-wrong = { $screw } in { $hole } (its own: { $own }): { $harm }.
site-wrong-none = No kind of screw enters the hole of another, as far as the record says.
site-harm =
    { $effect ->
        [pierces] { $beyond } mm beyond the hole: reaches { $parts }
        [may-pierce] { $beyond } mm beyond the hole; { $parts } lies at this place, at a depth not known
        [may-pierce-longer] longer than its own screw by { $longer } mm; { $parts } lies at this place
        [bottoms] { $beyond } mm longer than the hole is deep: jams or breaks through
        [longer] longer than its own screw by { $longer } mm; the depth of the hole is not known
        [goes-in] longer than its own screw by { $longer } mm, within the depth of the hole
        [short] shorter than its own screw by { $longer } mm
       *[askew] another thread: bites askew, holds little, spoils the thread
    }
site-harm-turns = { $lost } turns fewer
site-harm-hold = { $hold } of { $all } hold
site-harm-weak = less than one diameter
site-harm-proud = The head stands proud.
site-reached-below = { $name }, { $gap } mm below it
site-screw-sheet = Screw sheet at true scale
site-screw-sheet-note = The outline with every hole at its place, its kind and the order out; the screws are laid on it. The bar at the foot shows whether the printer kept the scale.
site-screw-page = Page { $number } as a drawing

site-refit = Way back
site-refit-note = The device wholly taken apart is put together again: moves { $moves }, screws { $screws }. Each instruction has the way back from its own part.
site-trial = Trial: switch the device on and go through the checks before the device is closed; switch it off.
site-untried = Not yet connected, so not tried: { $names }.
site-look-at = Before it is covered, see that these are seated: { $names }.
site-new-part = New part: { $names }.
site-new-item = New: { $item }{ $amount }.
site-layer =
    { $kind ->
        [pad] Pad for a gap of { $thickness } mm: a thinner one does not touch, a much thicker one presses on the board.
        [putty] Putty { $thickness } mm thick in place.
       *[paste] Paste { $thickness } mm thick in place.
    }
site-bond = Bond: { $size }.
site-bond-length = { $length } mm long
site-bond-area = { $area } mm²
site-bond-area-most = at most { $area } mm²
site-press = press { $figure } s at each spot
site-rest = leave weighted { $figure } min
site-full = full strength after { $figure } h
site-drive-in = { $count } × { $letter }, { $kind }. Out after it: { $out }.
site-not-this = Not { $screw }:
site-slowest-bond = The slowest bond has its strength after { $hours } h.
site-unknown-bonds = Times not known: { $names }.
# Sentences of the table of adhesives, by family; English stands in the table itself.
site-adhesive =
    { $sentence ->
       *[none] –
    }

site-index = Repairability index
site-index-note = Regulation (EU) 2023/1669, computed from the record. Every number says its clause.
site-lowest-found = An authority may find
site-lowest-found-note = class { $letter }; 0.96 R, Annex IX Table 10
site-with-assumed = With assumed conditions
site-assumed-range =
    { $count ->
        [one] { $span }, with { $count } assumed condition kept or ignored
       *[other] { $span }, with { $count } assumed conditions kept or ignored
    }
site-assumed-undefined =
    { $count ->
        [one] no score defined; { $count } assumed condition
       *[other] no score defined; { $count } assumed conditions
    }
site-exactly = exactly { $index }
site-rounding-matters = the class hangs on rounding
site-rounding-firm = the class is firm under rounding
site-scores = Scores
site-score =
    { $symbol ->
        [SDD] disassembly depth
        [SF] fasteners
        [ST] tools
        [SSP] spare parts
        [SSU] software updates
       *[SRI] repair information
    }
site-no-score = no score defined
site-index-parts = Points of each part
site-index-parts-note = From 1 to 5. A part that is there more than once counts by its lowest.
site-part-state =
    { $state ->
        [absent] not in this device
       *[unknown] not known whether it is there
    }
site-missing = What is missing
site-missing-moves = (touches { $scores }; R falls by up to { $by })
site-below = Below the lowest level
site-regulation =
    { $key ->
        [eco-2023-1670] Regulation (EU) 2023/1670, ecodesign of smartphones and slate tablets
        [bat-2023-1542] Regulation (EU) 2023/1542, batteries: removability of portable batteries
       *[unlike] { $title }
    }
site-applies =
    { $applies ->
        [yes] Applies:
       *[no] Does not apply:
    }
site-verdict =
    { $verdict ->
        [not-met] Not met: { $count }
        [met] Met: { $count }
       *[not-decidable] Not decidable from the record: { $count }
    }
site-trace = How it was computed
site-own-words = The sentences are this program's own; the act decides.
site-steps-to = Steps to { $name }

site-lists = Lists
site-lists-note = Tools and consumables are those of the instructions here. The CSV files have the same column names in every language; a text that a spreadsheet would run as a formula has an apostrophe in front.
site-list =
    { $list ->
        [parts] Parts
        [tools] Tools
        [consumables] Consumables
       *[renewals] New for the way back
    }
site-tool-group =
    { $group ->
        [basic] basic
        [commercial] commercially available
        [proprietary] proprietary
        [spare_set] comes with the spare part
        [product_set] comes with the device
        [none] bare hand
       *[unknown] not known
    }
site-list-empty = None.
site-as-csv = { $list } as CSV
site-spare-way = only where a joint does not give way
site-role =
    { $role ->
        [battery] battery
        [display] display
        [back_cover] back cover
        [front_camera] front camera
        [rear_camera] rear camera
        [charging_port] charging port
        [button] button
        [microphone] microphone
        [speaker] speaker
        [hinge] hinge
        [main_board] main board
        [sub_board] sub board
        [sim_tray] SIM tray
        [card_tray] card tray
        [audio_connector] audio connector
        [protective_foil] protective foil
       *[unlike] other
    }
site-spare =
    { $spare ->
        [end_user] for everybody
        [professional] for professionals
        [none] not sold
       *[unknown] not known
    }

site-chapters = Chapters
site-chapter =
    { $does ->
        [open] Open: { $name }
       *[lift] Lift: { $name }
    }
site-chapters-note = From the bench log. A line of the log is written when its move is done, so a chapter begins where the one before ends. Times are those of the recording.
site-about-webvtt = chapters for a video element
site-about-times = lines of time and title, none shorter than 10 s

site-photos = Photos
site-photos-note = Without place, date and device; what was blacked out is gone.
site-photos-lacking =
    { $count ->
        [one] { $count } photo of the record is not here: its picture was not at hand.
       *[other] { $count } photos of the record are not here: their pictures were not at hand.
    }
site-photo = Photo of the device
site-photo-of = Shows { $names }
site-photo-at = At { $time } of the log: { $what }
