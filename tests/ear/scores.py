"""Scores that people wrote, as MusicXML 4.0 (W3C) in compressed files: read into pieces, played by instruments drawn by lot."""
import math
import xml.etree.ElementTree as ElementTree
import zipfile

import grooves
from piece import Piece, beat_of

STEPS = {'C': 0, 'D': 2, 'E': 4, 'F': 5, 'G': 7, 'A': 9, 'B': 11}
"""Programs for parts from the highest down; the last is repeated."""
BANDS = [[0], [0], [19], [48], [52], [24], [6], [40, 40, 41, 42], [73, 68, 71, 70], [56, 60, 57, 58], [21], [26, 24, 32], [4], [11, 0, 32]]
CHANNELS = [0, 1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15]


def opened(path):
    with zipfile.ZipFile(path) as z:
        names = [n for n in z.namelist() if n.endswith(('.xml', '.musicxml')) and not n.startswith('META-INF')]
        return ElementTree.fromstring(z.read(names[0]))


def pitch(note):
    it = note.find('pitch')
    return 12 * (int(it.findtext('octave')) + 1) + STEPS[it.findtext('step')] + round(float(it.findtext('alter') or 0))


def measures(part):
    """Of each measure: its length in quarters, its time signature if it gives one, and (from, to, key) within it, tied notes in one."""
    divisions, out = 1, []
    for measure in part.iter('measure'):
        now = last = longest = 0.0
        notes, time = [], None
        for it in measure:
            if it.tag == 'attributes':
                divisions = int(it.findtext('divisions') or divisions)
                if it.find('time/beats') is not None:
                    time = int(it.findtext('time/beats')), int(it.findtext('time/beat-type'))
            elif it.tag in ('backup', 'forward'):
                now += (1 if it.tag == 'forward' else -1) * int(it.findtext('duration')) / divisions
            elif it.tag == 'note' and it.find('grace') is None:
                length = int(it.findtext('duration')) / divisions
                at = last if it.find('chord') is not None else now
                if it.find('pitch') is not None:
                    ties = {t.get('type') for t in it.iter('tie')}
                    notes.append((at, at + length, pitch(it), 'stop' in ties))
                last = at
                now = at + length
            longest = max(longest, now)
        out.append((longest, time, notes))
    return out


def read(path, rng):
    """None where the metre is none that is danced, changes, or the measures do not add up."""
    parts = [measures(p) for p in opened(path).findall('part')]
    times = {t for p in parts for _, t, _ in p if t}
    if len(times) != 1 or len({len(p) for p in parts}) != 1:
        return None
    counted = beat_of(*times.pop())
    if counted is None or counted[:2] not in grooves.TEMPOS:
        return None
    beats, divided, quarters = counted
    notes, bars, open_, at = [], [], {}, 0.0
    for i in range(len(parts[0])):
        length = max(p[i][0] for p in parts) / quarters
        for channel, p in zip(CHANNELS, parts):
            for start, end, key, tied in p[i][2]:
                a, b = at + start / quarters, at + end / quarters
                if tied and (channel, key) in open_ and abs(open_[channel, key][1] - a) < .01:
                    open_[channel, key][1] = b
                    continue
                open_[channel, key] = [a, b, channel, key]
                notes.append(open_[channel, key])
        # A measure that is cut in two for a repeat, or opens with a pick-up, is a bar only as a whole.
        if bars and bars[-1][1] < beats and bars[-1][1] + length <= beats + .01:
            bars[-1] = (bars[-1][0], bars[-1][1] + length)
        else:
            bars.append((at, length))
        at += length
    if bars and bars[0][1] < beats - .01:
        bars = bars[1:]
    if bars and bars[-1][1] < beats - .01:
        bars = bars[:-1]
    if len(bars) < 6 or len(notes) < 40 or any(abs(length - beats) > .01 for _, length in bars):
        return None
    programs = rng.choice(BANDS)
    controls = [(0, bytes([0xC0 | c, programs[min(i, len(programs) - 1)]])) for i, c in enumerate(CHANNELS[:len(parts)])]
    low, high = grooves.TEMPOS[counted[:2]]
    # What moves fastest is played neither too slowly nor too fast to be played.
    density = len({round(n[0], 3) for n in notes}) / at
    tempo = min(low * (min(high, 150) / low) ** rng.random(), 480 / density)
    once = [(a, b, c, k, rng.randrange(62, 96)) for a, b, c, k in notes]
    length = bars[-1][0] + beats - bars[0][0]
    times = max(1, math.ceil(70 / (length * 60 / tempo)))
    repeated = [(a + n * length, b + n * length, c, k, v) for n in range(times) for a, b, c, k, v in once if n == 0 or a >= bars[0][0] - 1e-6]
    return Piece(path.stem, 'score', counted[:2], sorted(repeated), controls, [(p + n * length, beats) for n in range(times) for p, _ in bars], [], tempo=tempo)
