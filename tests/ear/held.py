"""
held.py ROOT OUT SIDE [EVERY]: songs with what is true of them beside each (NAME.wav, .beats, .lab, .truth.json), for `fit` or for `held`, none of which the
net was trained on: other styles, tunes and composers, and for `held` a sound font never trained on. A folder a family; with EVERY, only
every so manyth song. Beside songs of `fit` lies what train.py reads (features/NUMBER.npz), by which it says how the net does.
"""
import glob
import json
import os
import random
import sys
import wave
import zlib
from multiprocessing import Pool
from pathlib import Path

import numpy as np

import grooves
import piece
import scores
import smf
import styles
import tunes
from features import kept
from perform import perform
from sound import render, worn

ROOT, OUT, SIDE = sys.argv[1:4]
EVERY = int(sys.argv[4]) if len(sys.argv) > 4 else 1
LONGEST = 170
RATE = 22050
FONTS = {'fit': ['sf_GMbank.sf2', 'sf_GMbank.sf2', 'freepats'], 'held': ['TimGM6mb.sf2']}[SIDE]


def jobs():
    """(family, name, what, hand, plain), each with a seed of its own name."""
    found = styles.catalogue(f'{ROOT}/mma/lib')
    side = styles.sides(found)
    keys = sorted(k for k in found if side[found[k][3]] == SIDE)
    times = 14 if SIDE == 'fit' else 2
    out = []
    for key in keys:
        n = times * (2 if found[key][2] != (4, 2) else 1)
        out += [('styles', f'{key.replace("/", "-")}-{k}', ('style', key, found[key]), None, k == 0) for k in range(n)]
    paths = sorted(glob.glob(f'{ROOT}/tunes/held/**/*.mid', recursive=True))
    paths = [p for p in paths if (zlib.crc32(Path(p).stem.encode()) // 7 % 2 == 0) == (SIDE == 'fit')]
    random.Random(5).shuffle(paths)
    out += [('tunes', Path(p).stem, ('tune', p), None, False) for p in paths[:260 if SIDE == 'fit' else 90]]
    written = sorted(glob.glob(f'{ROOT}/scores/{SIDE}/*/*.mxl'))
    out += [('scores', f'{Path(p).parent.name}-{Path(p).stem}-{k}', ('score', p), None, False) for p in written for k in range(6 if SIDE == 'fit' else 1)]
    if SIDE == 'fit':
        out += [('own', f'own-{k}', ('own', k), None, False) for k in range(160)]
        out += [('free', f'{Path(p).stem}-free', ('tune', p), rng.choice(['free', 'free', 'rubato']), False) for rng in [random.Random(6)] for p in paths[260:380]]
    else:
        out += [('free', f'{Path(p).stem}-free', ('tune', p), 'free', False) for p in paths[90:130]]
    human = sorted(glob.glob(f'{ROOT}/human/{SIDE}/*.mid'))
    out += [('human', Path(p).stem, ('human', p), None, True) for p in human]
    if SIDE == 'fit':
        out += [('human', f'{Path(p).stem}-{k}', ('human', p), None, False) for p in human for k in range(4)]
    return out


def one(job):
    family, name, what, hand, plain = job
    rng = random.Random(zlib.crc32(f'{SIDE} {name}'.encode()))
    scratch = f'/dev/shm/held{os.getpid()}'
    os.makedirs(scratch, exist_ok=True)
    try:
        if what[0] == 'style':
            made = styles.compose(f'{ROOT}/mma/lib', f'{ROOT}/mma/mma.py', what[1], what[2], rng, scratch)
        elif what[0] == 'own':
            made = grooves.compose(rng)
        elif what[0] == 'score':
            made = scores.read(Path(what[1]), rng)
        else:
            made = piece.from_file(name, family, smf.read(what[1]))
            if made and what[0] == 'tune':
                made = tunes.arranged(made, rng)
        if not made:
            return f'none {name}'
        if not plain and not hand:
            hand = rng.choices(['even', 'drift', 'human', 'breathing', 'free'], [3, 2, 3, 1, .6 if SIDE == 'fit' else 0])[0]
        events, truth = perform(made, rng, LONGEST, plain, hand)
        if len(truth['beats']) < 40 or truth['end'] < 35:
            return f'short {name}'
        y = render(events, f'{ROOT}/fonts/{rng.choice(FONTS)}', ROOT, scratch, LONGEST, None if plain else rng)
        if not plain and SIDE == 'fit':
            y = worn(y, rng, [])
        if SIDE == 'fit':
            kept(f'{OUT}/features/{zlib.crc32(name.encode()):08x}.npz', y, dict(truth, family=family))
        y = y / max(1e-3, np.max(np.abs(y))) * .9
        folder = f'{OUT}/{family}'
        os.makedirs(folder, exist_ok=True)
        stem = f'{folder}/{name}'
        with open(f'{stem}.beats', 'w') as f:
            f.writelines(f'{t:.4f}\t{n}\n' for t, n in truth['beats'])
        last = truth['beats'][-1][0]
        starts = [(t, label) for t, label in truth['sections'] if t < last - 1] or [(truth['beats'][0][0], 'A')]
        ends = [t for t, _ in starts[1:]] + [max(last, starts[-1][0] + .5)]
        rows = [dict(start=round(max(0, t), 4), end=round(e, 4), label=f'part {label}', material=label) for (t, label), e in zip(starts, ends)]
        with open(f'{stem}.lab', 'w') as f:
            f.writelines(f'{r["start"]}\t{r["end"]}\t{r["label"]}\n' for r in rows)
        told = dict(beats_per_bar=truth['metre'][0], compound=truth['metre'][1] == 3)
        # Only songs with a form of their own can be asked for sections.
        if family in ('styles', 'own'):
            told['sections'] = rows
        with open(f'{stem}.truth.json', 'w') as f:
            json.dump(told, f)
        with wave.open(f'{stem}.wav', 'wb') as w:
            w.setnchannels(1)
            w.setsampwidth(2)
            w.setframerate(RATE)
            w.writeframes((y * 32767).astype('<i2').tobytes())
        return 'made'
    except Exception as error:
        return f'error {name} {type(error).__name__} {error}'


if __name__ == '__main__':
    os.makedirs(f'{OUT}/features', exist_ok=True)
    counts = {}
    with Pool(int(os.environ.get('WORKERS', os.cpu_count()))) as pool:
        for word in pool.imap_unordered(one, jobs()[::EVERY], chunksize=1):
            kind = word.split()[0]
            counts[kind] = counts.get(kind, 0) + 1
            if kind != 'made' and counts[kind] < 8:
                print(word, flush=True)
    print(SIDE, counts)
