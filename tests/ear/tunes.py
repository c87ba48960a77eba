"""Tunes that people wrote, with an accompaniment laid under them by rule: chords that hold what the tune sings in each bar."""
import grooves
from melody import tones
from piece import Piece

CHOICES = {'major': ['I', 'IV', 'V', 'vi', 'ii', 'V7'], 'minor': ['i', 'iv', 'V', 'bVI', 'bVII', 'V7']}
PROFILE = {'major': [2, 0, 1, 0, 1.5, 1, 0, 2, 0, 1, 0, .8], 'minor': [2, 0, 1, 1.5, 0, 1, 0, 2, 1, 0, .8, .3]}


def key_of(notes):
    weight = [0.0] * 12
    for a, b, _, k, _ in notes:
        weight[k % 12] += min(2, b - a)
    if notes:
        weight[notes[-1][3] % 12] += sum(weight) * .1
    return max(((sum(w * p[(i - t) % 12] for i, w in enumerate(weight)), t, m) for m, p in PROFILE.items() for t in range(12)))[1:]


def arranged(tune, rng):
    """The tune alone on one channel, its bars, and in four of five songs an accompaniment; a fair tempo of its own."""
    notes = [n for n in tune.notes if n[2] != 9]
    # abc2midi's own accompaniment lies on other channels.
    lead = max({n[2] for n in notes}, key=lambda c: sum(1 for n in notes if n[2] == c))
    notes = [n for n in notes if n[2] == lead]
    if len(notes) < 24 or not tune.bars or tune.metre not in grooves.TEMPOS:
        return None
    low, high = grooves.TEMPOS[tune.metre]
    tonic, mode = key_of(notes)
    tempo = low * (high / low) ** rng.random()
    # A reel at the tempo of a ballad is another tune: quick notes are not slowed or hurried out of all bounds.
    density = len(notes) / max(1, tune.end)
    tempo = min(tempo, 540 / max(1, density))
    beats = tune.metre[0]
    times = 1 if tune.end * 60 / tempo > 60 else 2 if tune.end * 60 / tempo > 35 else 3
    count = len(tune.bars)
    first = tune.bars[0][0]
    length = count * beats
    song = grooves.Song(tune.metre, tempo > 145, rng)
    bare = rng.random() < .12
    sections = []
    for k in range(times):
        parts = dict(parts=song.parts_for('A'), level=rng.uniform(.7, 1), half=False)
        at = k * length
        sections.append((at, f'{k}'))
        for a, b, _, key, v in notes:
            song.notes.append((max(0, at + a - first), at + b - first, 4, key, max(40, min(120, v))))
        if bare:
            continue
        last = None
        for i in range(count):
            within = [(n[3] - tonic, min(n[1], first + (i + 1) * beats) - max(n[0], first + i * beats)) for n in notes
                      if n[0] < first + (i + 1) * beats and n[1] > first + i * beats]
            last = max(CHOICES[mode], key=lambda c: sum(w * (1 if p % 12 in tones(c) else -.4) for p, w in within)
                       + (.4 if c in 'Ii' else 0) + (.3 if c == last else 0) + .2 * rng.random())
            song.bar(at + i * beats, last, tonic if tonic < 7 else tonic - 12, parts, drums=k > 0 or rng.random() < .8, first=i == 0,
                     last=i % 8 == 7, thin=False)
    whole = [(i * beats, beats) for i in range(count * times)]
    return Piece(tune.name, 'tune', tune.metre, sorted(song.notes), song.controls, whole, sections, tempo=tempo)
