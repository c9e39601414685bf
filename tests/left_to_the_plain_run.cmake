# What a run with sanitizers leaves to the run without: what only adds up how often or how closely a figure is met,
# over thousands of notes or necks, or waits for minutes. Each goes through the same code as others of its room,
# which are not left out.

set(left_out_files
    support/plucked_string_test.cpp    # the strings to pluck: every other test plucks them
    support/stiff_string_test.cpp
    measurement/recorded_notes_test.cpp)  # dozens of notes, as in shipped_recordings_test.cpp

# With * for what holds a comma.
set(left_out_cases
    "minutes of silence are waited through*"
    "of a shipped recording a session says what analyze says*"
    "two standard uncertainties hold 95.45 % of truths*"
    "where the fit is the larger part* the truth is still held at least as often"
    "cut short while it glides*"
    "an ordinary hand is called scattered in less than 1 % of strings*"
    "what would fold into the partials is 80 dB down"
    "a pluck that strays by less than that moves its string's saddle by what least squares let it"
    "on a neck without a fault nothing is named in 95 of 100 surveys"
    "faults in made necks are noticed*"
    "of * good necks*"
    "necks whose saddles are set for all frets*"
    "where each saddle was missed by half a cent*"
    "where all saddles are off*"
    "three plucks a note find a saddle that one pluck cannot"
    "with more plucks a note a nut that is off*")
