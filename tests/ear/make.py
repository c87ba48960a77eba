"""
make.py ROOT OUT SECONDS [FIRST]: writes songs' features with what is true of them, until the time is up.

ROOT is what prepare.py laid out; OUT gets
NUMBER.npz. Numbers from FIRST on; the same number is always the same song. Every process takes the next number.
"""
import glob
import os
import random
import sys
import time
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

LONGEST = 100
ROOT, OUT = sys.argv[1], sys.argv[2]
"""Sound fonts that are trained on; TimGM6mb is never."""
FONTS = ['FluidR3Mono_GM.sf3'] * 4 + ['sf_GMbank.sf2'] * 4 + ['freepats'] * 2


def prepare():
    global STYLES, TUNES, SCORES, VOICES
    library = f'{ROOT}/mma/lib'
    found = styles.catalogue(library)
    side = styles.sides(found)
    STYLES = {k: v for k, v in found.items() if side[v[3]] == 'train'}
    TUNES = sorted(glob.glob(f'{ROOT}/tunes/train/**/*.mid', recursive=True))
    # Composers with few scores are heard beside those with hundreds: the root of how many there are.
    found = {}
    for path in sorted(glob.glob(f'{ROOT}/scores/train/*/*.mxl')):
        found.setdefault(Path(path).parent.name, []).append(path)
    SCORES = [(path, len(paths) ** -.5) for _, paths in sorted(found.items()) for path in paths]
    voices = f'{ROOT}/voices.npy'
    VOICES = [v.astype(np.float32) / 127 for v in np.load(voices, allow_pickle=False)] if os.path.exists(voices) else []
    os.makedirs(f'/dev/shm/ear{os.getpid()}', exist_ok=True)
    # A GPU machine's libraries would else start as many threads a process as there are processors.
    os.environ['OMP_NUM_THREADS'] = '1'


"""Kinds of songs, how many of each in ten, and how many of a kind are played freely."""
KINDS = {'style': (4.4, .1), 'own': (3, .2), 'tune': (1.7, .35), 'score': (.9, .5)}


def compose(rng, scratch):
    kind = rng.choices(list(KINDS), [share for share, _ in KINDS.values()])[0]
    hand = 'rubato' if rng.random() < KINDS[kind][1] else rng.choices(['even', 'drift', 'human', 'breathing', 'free'], [3, 1.5, 3, 1.5, .6])[0]
    return of_kind(kind, rng, scratch), hand


def of_kind(kind, rng, scratch):
    if kind == 'style':
        # Compound and triple styles are few: they come as often as if there were more.
        names = sorted(STYLES)
        weights = [5 if STYLES[n][2][1] == 3 else 2 if STYLES[n][2][0] == 3 else 1 for n in names]
        for _ in range(4):
            key = rng.choices(names, weights)[0]
            made = styles.compose(f'{ROOT}/mma/lib', f'{ROOT}/mma/mma.py', key, STYLES[key], rng, scratch)
            if made:
                return made
        kind = 'own'
    if kind == 'score':
        for _ in range(8):
            path = rng.choices([p for p, _ in SCORES], [w for _, w in SCORES])[0]
            made = scores.read(Path(path), rng)
            if made:
                return made
    if kind == 'tune':
        for _ in range(6):
            path = rng.choice(TUNES)
            try:
                made = piece.from_file(Path(path).stem, 'tune', smf.read(path))
                made = made and tunes.arranged(made, rng)
            except (ValueError, IndexError, KeyError):
                made = None
            if made:
                return made
    return grooves.compose(rng)


def song(number):
    rng = random.Random(1_000_003 * number + 17)
    scratch = f'/dev/shm/ear{os.getpid()}'
    out = f'{OUT}/{number:06d}.npz'
    if os.path.exists(out):
        return 'there'
    try:
        made, hand = compose(rng, scratch)
        events, truth = perform(made, rng, LONGEST, hand=hand)
        if len(truth['beats']) < 24:
            return f'short {made.name}'
        y = render(events, f'{ROOT}/fonts/{rng.choice(FONTS)}', ROOT, scratch, LONGEST, rng)
        if len(y) < 20 * 22050 or np.max(np.abs(y)) < 1e-3:
            return f'silent {made.name}'
        kept(out, worn(y, rng, VOICES), truth)
        return 'made'
    except Exception as error:  # One song that cannot be made must not end the rest.
        return f'error {number} {type(error).__name__} {error}'


if __name__ == '__main__':
    seconds = float(sys.argv[3])
    first = int(sys.argv[4]) if len(sys.argv) > 4 else 0
    workers = int(os.environ.get('WORKERS', os.cpu_count()))
    os.makedirs(OUT, exist_ok=True)
    began, counts = time.time(), {}
    with Pool(workers, initializer=prepare) as pool:
        for i, word in enumerate(pool.imap_unordered(song, range(first, first + 100_000), chunksize=1)):
            kind = word.split()[0]
            counts[kind] = counts.get(kind, 0) + 1
            if kind in ('error', 'silent') and counts[kind] < 12:
                print(word, flush=True)
            if i % 200 == 199:
                print(counts, round(time.time() - began), 's', flush=True)
            if time.time() - began > seconds:
                pool.terminate()
                break
    print('songs', counts, round(time.time() - began), 's', flush=True)
