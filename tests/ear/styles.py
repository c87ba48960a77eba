"""Songs over accompaniment styles that others wrote: each style file's grooves laid under a form, chords and a melody."""
import os
import re
import subprocess
import sys
import zlib
from pathlib import Path

import smf
from melody import CHORDS, melody
from piece import Piece, notes_of

"""Beats a minute by what a style is called; competition dances as their federations give them (from memory), the others by common practice."""
TEMPOS = [
    (r'vien', 165, 186), (r'fast.*waltz', 150, 205), (r'jazz.*waltz|latinwaltz', 110, 185), (r'french', 140, 190),
    (r'waltz|34$|serenade', 80, 176), (r'68march', 104, 124), (r'68swing', 90, 130), (r'68', 46, 84),
    (r'128|slow-?rock|oldie', 50, 84),
    (r'quickstep', 190, 208), (r'fox', 108, 160), (r'jive|boogie|boggie|twist', 140, 184), (r'bebop|fastswing|fastbig|fastblues', 170, 230),
    (r'rh?umba', 96, 116), (r'bolero', 72, 104), (r'beguine', 100, 126), (r'chacha', 112, 130), (r'samba', 96, 116),
    (r'mambo|salsa|merengue|^son|calypso|cuban', 130, 196), (r'tango', 116, 134), (r'bossa', 112, 150),
    (r'slow|ballad|bald|hymn|lullaby|spiritual|mellow|ambient|trip', 58, 92), (r'march|polka', 104, 132),
    (r'charleston|dixie|ragtime|bluegrass|zydeco', 150, 220), (r'swing|big|jazz|broadway|showtune|western', 110, 190),
    (r'techno|trance|house|dance|disco|rave', 118, 140), (r'dnb', 160, 176), (r'punk|mtl|metal', 130, 190), (r'', 76, 150),
]
ASIDE = re.compile(r'intro|end|fill|break|walk|metro|count|tacet|hits?$', re.I)
"""Of each metre's styles so many hundredths are held out for measuring, and so many for fitting the tracking's weights."""
HELD, FIT = 24, 20


def stem_of(path):
    """A style's name without numbers: files of one name, whatever folder they lie in, are on one side."""
    return re.sub(r'[^a-z]', '', re.sub(r'(68|128|34)', lambda m: {'68': 'six', '128': 'twelve', '34': 'three'}[m[1]], path.stem.lower()))


def sides(found):
    """{stem: 'train', 'fit' or 'held'}: by the checksum of its name, metre by metre. Chosen before any result was seen."""
    metre = {}
    for _, _, counted, stem in found.values():
        metre.setdefault(stem, counted)
    out = {}
    for counted in sorted(set(metre.values())):
        stems = sorted((s for s in metre if metre[s] == counted), key=lambda s: zlib.crc32(s.encode()))
        for i, stem in enumerate(stems):
            share = 100 * (i + .5) / len(stems)
            out[stem] = 'held' if share < HELD else 'fit' if share < HELD + FIT else 'train'
    return out


def catalogue(library):
    """{path without suffix: [(groove, quarters a bar)]} and the metre of each file; files in five and click tracks are left out."""
    found = {}
    for path in sorted(Path(library).rglob('*.mma')):
        if re.search(r'metronome|none|54|count|intro|ending|2beatp', path.stem):
            continue
        time, grooves = 4.0, []
        for line in path.read_text(errors='replace').splitlines():
            if m := re.match(r'\s*time\s+(\d+)(?:/(\d+))?', line, re.I):
                time = int(m[1]) * 4 / int(m[2]) if m[2] else float(m[1])
            elif m := re.match(r'\s*defgroove\s+(\S+)', line, re.I):
                grooves.append((m[1], time))
        name = path.stem.lower()
        by_time = {}
        for groove, quarters in grooves:
            by_time.setdefault(quarters, []).append(groove)
        if not by_time:
            continue
        quarters, names = max(by_time.items(), key=lambda kv: len(kv[1]))
        if quarters == 4:
            metre = (4, 3) if re.search(r'128|slow-?rock', name) else (4, 2)
        elif quarters == 3:
            metre = (2, 3) if '68' in name or 'afro' in name else (3, 2)
        elif quarters == 6:
            metre = (2, 3)
        elif quarters == 2:
            metre = (2, 2)
        else:
            continue
        found[str(path.relative_to(library).with_suffix(''))] = (names, quarters, metre, stem_of(path))
    return found


def tempo_for(stem, name, rng):
    for pattern, low, high in TEMPOS:
        if re.search(pattern, name):
            return low * (high / low) ** rng.random()


def compose(library, program, key, entry, rng, scratch):
    """One song over a style; None where the style cannot be played."""
    names, quarters, metre, stem = entry
    main = [n for n in names if not ASIDE.search(n)] or names
    intros = [n for n in names if re.search('intro', n, re.I)]
    ends = [n for n in names if re.search('end', n, re.I)]
    fills = [n for n in names if re.search('fill', n, re.I)]
    mode = rng.choice(['major', 'major', 'minor'])
    letters = {}
    unit = 8 if metre[0] != 2 or rng.random() < .5 else 16
    if metre == (3, 2) and rng.random() < .5:
        unit = 16
    form = rng.choice(['ABABCB', 'AABA', 'AABABC', 'ABAB', 'ABCABC', 'AABBA', 'ABACA', 'AABABA'])
    for letter in set(form):
        letters[letter] = dict(groove=rng.choice(main), chords=rng.choice(CHORDS[mode]).split(), sung=rng.random() < .75)
    tonic = rng.randrange(12)
    lines, sections, bar, numbered = [], [], 0, 1
    chords_at = []
    use = f'Use {key}'

    def lay(groove, count, chords, last=None):
        nonlocal bar, numbered
        lines.append(f'Groove {groove}')
        for i in range(count):
            if last and i == count - 1:
                lines.append(f'Groove {last}')
            chord = chords[i % len(chords)]
            lines.append(f'{numbered} {named(tonic, chord)}')
            chords_at.append(chord)
            numbered += 1
            bar += 1

    if rng.random() < .7:
        sections.append((0, 'i'))
        groove = rng.choice(intros) if intros and rng.random() < .6 else letters[form[0]]['groove']
        lay(groove, rng.choice([2, 4, 4, 8]), letters[form[0]]['chords'])
    for letter in form:
        it = letters[letter]
        sections.append((bar, letter))
        lay(it['groove'], unit, it['chords'], rng.choice(fills) if fills and rng.random() < .6 else None)
        if bar > 80:
            break
    sections.append((bar, 'o'))
    lay(rng.choice(ends) if ends and rng.random() < .7 else letters[form[-1]]['groove'], rng.choice([2, 4]), ['I'])
    song = Path(scratch) / 'song.mma'
    song.write_text('\n'.join([use, f'Tempo 120', *lines]) + '\n')
    out = Path(scratch) / 'song.mid'
    out.unlink(missing_ok=True)
    done = subprocess.run([sys.executable, str(program), '-f', str(out), str(song)], capture_output=True, timeout=30, cwd=scratch)
    if done.returncode != 0 or not out.exists():
        return None
    division, events, _, _ = smf.read(out)
    ticks = quarters * division / metre[0]
    notes, controls = notes_of(events, lambda tick: tick / ticks)
    if len(notes) < 60:
        return None
    for letter, it in letters.items():
        if not it['sung']:
            continue
        tune = melody(metre, unit, it['chords'], mode, rng)
        channel = 10
        for start, _ in [s for s in sections if s[1] == letter]:
            for a, b, k, v in tune:
                notes.append((max(0, start * metre[0] + a), start * metre[0] + b, channel, 60 + tonic % 12 + k - (12 if tonic > 7 else 0), v))
    controls.append((0, bytes([0xCA, rng.choice([0, 22, 40, 52, 53, 56, 64, 65, 66, 68, 71, 73, 75, 80, 81, 85])])))
    notes.sort()
    b = metre[0]
    return Piece(f'{key.replace("/", "-")}', f'style {stem}', metre, notes, controls, [(k * b, b) for k in range(bar)],
                 [(at * b, letter) for at, letter in sections], tempo=tempo_for(stem, Path(key).stem.lower(), rng))


KEYS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']
DEGREES = {'I': 0, 'bII': 1, 'II': 2, 'bIII': 3, 'III': 4, 'IV': 5, 'V': 7, 'bVI': 8, 'VI': 9, 'bVII': 10}


def named(tonic, chord):
    """`ii7` of a key as a chord symbol."""
    root, kind = re.match(r'(b?[iIvV]+)(.*)', chord).groups()
    minor = root.lstrip('b').islower()
    key = KEYS[(tonic + DEGREES[root[:1].replace('b', 'b') + root[1:].upper() if root[0] == 'b' else root.upper()]) % 12]
    return key + ('m' if minor else '') + kind
