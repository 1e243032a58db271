"""What mido (Debian: python3-mido) reads of a MIDI file: a line for each track, name and notes.

usage: python3 midi_by_mido.py FILE
A note is printed as tick:length:channel:key:velocity, in order of time and key.
"""
import sys

import mido

for track in mido.MidiFile(sys.argv[1]).tracks:
    now, name, begun, notes = 0, "", {}, []
    for message in track:
        now += message.time
        if message.type == "track_name":
            name = message.name
        elif message.type == "note_on" and message.velocity > 0:
            begun[message.channel, message.note] = (now, message.velocity)
        elif message.type in ("note_on", "note_off"):
            at, velocity = begun.pop((message.channel, message.note))
            notes.append((at, now - at, message.channel, message.note, velocity))
    assert not begun, "a note never ends"
    notes.sort(key=lambda note: (note[0], note[3], note[1]))
    print(name + "|" + " ".join("%d:%d:%d:%d:%d" % note for note in notes))
