"""
make.py ROOT OUT SECONDS [FIRST]: writes songs' features with what is true of them, until the time is up.

ROOT holds mma/ (mma.py, MMA, lib, includes), fonts/, tunes/ (MIDI files of human-written tunes, a folder a family), voices.npy; OUT gets
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
import smf
import styles
import tunes
from features import features, stored
from perform import perform
from sound import render, worn

LONGEST = 100
ROOT, OUT = sys.argv[1], sys.argv[2]
"""Sound fonts that are trained on; TimGM6mb is never."""
FONTS = ['FluidR3Mono_GM.sf3'] * 4 + ['sf_GMbank.sf2'] * 4 + ['freepats'] * 2


def prepare():
    global STYLES, TUNES, VOICES
    library = f'{ROOT}/mma/lib'
    found = styles.catalogue(library)
    side = styles.sides(found)
    STYLES = {k: v for k, v in found.items() if side[v[3]] == 'train'}
    TUNES = sorted(glob.glob(f'{ROOT}/tunes/train/**/*.mid', recursive=True))
    voices = f'{ROOT}/voices.npy'
    VOICES = [v.astype(np.float32) / 127 for v in np.load(voices, allow_pickle=False)] if os.path.exists(voices) else []
    os.makedirs(f'/dev/shm/ear{os.getpid()}', exist_ok=True)
    # A GPU machine's libraries would else start as many threads a process as there are processors.
    os.environ['OMP_NUM_THREADS'] = '1'


def compose(rng, scratch):
    kind = rng.choices(['style', 'own', 'tune'], [5, 2.6, 2.4 if TUNES else 0])[0]
    if kind == 'style':
        # Compound and triple styles are few: they come as often as if there were more.
        names = sorted(STYLES)
        weights = [4 if STYLES[n][2][1] == 3 else 2 if STYLES[n][2][0] == 3 else 1 for n in names]
        for _ in range(4):
            key = rng.choices(names, weights)[0]
            made = styles.compose(f'{ROOT}/mma/lib', f'{ROOT}/mma/mma.py', key, STYLES[key], rng, scratch)
            if made:
                return made
        kind = 'own'
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
        made = compose(rng, scratch)
        events, truth = perform(made, rng, LONGEST)
        if len(truth['beats']) < 24:
            return f'short {made.name}'
        y = render(events, f'{ROOT}/fonts/{rng.choice(FONTS)}', ROOT, scratch, LONGEST, rng)
        if len(y) < 20 * 22050 or np.max(np.abs(y)) < 1e-3:
            return f'silent {made.name}'
        x, z = features(worn(y, rng, VOICES))
        beats = np.array([b for b, _ in truth['beats']], np.float32)
        np.savez(out + '.tmp.npz', x=stored(x), z=stored(z), beats=beats, places=np.array([n for _, n in truth['beats']], np.int8),
                 sections=np.array([s for s, _ in truth['sections']], np.float32), metre=np.array(truth['metre'], np.int8),
                 family=truth['family'], name=truth['name'], hand=truth['hand'], drums=truth['drums'])
        os.rename(out + '.tmp.npz', out)
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
