"""
prepare.py ROOT WHEEL: lays out what the songs are made of, from Debian's packages that are installed here and from music21's wheel (README: manifest).

ROOT gets mma/, fonts/, tunes/{train,held}, scores/{train,fit,held}, human/{fit,held} and voices.npy. A tune lies on its side by the checksum of its name, a score
by that of its composer, so that no composer is on two sides.
"""
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import wave
import zipfile
import zlib
from pathlib import Path

import numpy as np

from features import RATE

ROOT, WHEEL = Path(sys.argv[1]), sys.argv[2]
SHARE = Path('/usr/share')
"""Patches larger than this stay behind: what is sent to another machine must be small."""
LARGEST = 400_000
"""Voices of espeak-ng, and what they say: common words in any order."""
VOICES = ['en-gb', 'en-us', 'en-gb-scotland', 'en-029', 'fr', 'de', 'it', 'es', 'pt', 'nl', 'pl', 'sv']
WORDS = '''time year people way day man thing woman life child world school state family student group country problem hand part place case week company
system program question work government number night point home water room mother area money story fact month lot right study book eye job word business issue side
kind head house service friend father power hour game line end member law car city name team minute idea body back parent face level office door health person art war
history party result change morning reason research girl guy moment air teacher force education'''.split()


def check(name):
    return zlib.crc32(name.encode())


def programs():
    shutil.copytree(SHARE / 'mma', ROOT / 'mma', dirs_exist_ok=True, ignore=shutil.ignore_patterns('*.pyc', '.mmaDB'))
    shutil.copy('/usr/bin/mma', ROOT / 'mma/mma.py')


def fonts():
    to = ROOT / 'fonts'
    to.mkdir(parents=True, exist_ok=True)
    for name in ('sf3/FluidR3Mono_GM.sf3', 'sf2/sf_GMbank.sf2', 'sf2/TimGM6mb.sf2'):
        shutil.copy((SHARE / 'sounds' / name).resolve(), to / Path(name).name)
    kept = []
    for line in Path('/etc/timidity/freepats.cfg').read_text().splitlines():
        if line.startswith('dir '):
            line = 'dir @HERE@'
        elif '.pat' in line:
            patch = line.split()[1]
            source = SHARE / 'midi/freepats' / patch
            if not source.exists() or source.stat().st_size > LARGEST:
                continue
            (to / 'freepats' / patch).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(source, to / 'freepats' / patch)
        kept.append(line)
    (to / 'freepats/freepats.cfg').write_text('\n'.join(kept) + '\n')


def tunes(corpus):
    """Every tune of the ABC books on its own, by abc2midi; of the thousands from Essen 800."""
    for folder, most in (('ryansMammoth', None), ('oneills1850', None), ('airdsAirs', None), ('miscFolk', None), ('essenFolksong', 800)):
        found = {}
        for path in sorted((corpus / folder).glob('*.abc')):
            text = path.read_text(errors='replace')
            head, *each = re.split(r'(?m)^(?=X:)', text)
            for i, tune in enumerate(each):
                found[f'{folder}-{path.stem}-{i}'] = tune
        names = sorted(found, key=check)[:most]
        for name in names:
            to = ROOT / 'tunes' / ('held' if check(name) % 5 == 0 else 'train') / folder / f'{name}.mid'
            to.parent.mkdir(parents=True, exist_ok=True)
            with tempfile.TemporaryDirectory() as scratch:
                abc = Path(scratch) / 't.abc'
                abc.write_text(found[name])
                subprocess.run(['abc2midi', abc, '-o', to], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=20)


def side_of_composer(name):
    return {0: 'held', 3: 'fit'}.get(check(name) % 4, 'train')


def scores(corpus):
    for path in sorted([*corpus.rglob('*.mxl'), *corpus.rglob('*.xml'), *corpus.rglob('*.musicxml')]):
        composer = path.relative_to(corpus).parts[0]
        if composer in ('demos', 'theoryExercises'):
            continue
        to = ROOT / 'scores' / side_of_composer(composer) / composer / '-'.join(path.relative_to(corpus).parts[1:])
        to.parent.mkdir(parents=True, exist_ok=True)
        if path.suffix == '.mxl':
            shutil.copy(path, to)
            continue
        with zipfile.ZipFile(to.with_suffix('.mxl'), 'w', zipfile.ZIP_DEFLATED) as z:
            z.write(path, 'score.xml')


def human():
    places = [SHARE / 'games/openttd/baseset/openmsx', SHARE / 'games/dink/dink/Sound', SHARE / 'planetblupi/music', SHARE / 'doc/pianobooster/courses/BoosterMusic',
              SHARE / 'doc/pianobooster/courses/BeginnerCourse']
    for place in places:
        for path in sorted(p for p in place.iterdir() if p.suffix.lower() == '.mid'):
            to = ROOT / 'human' / ('fit' if check(path.stem) % 3 == 0 else 'held') / f'{path.stem}.mid'
            to.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(path, to)


def voices():
    rng, rows = random.Random(7), []
    for voice in VOICES:
        for _ in range(3):
            with tempfile.NamedTemporaryFile(suffix='.wav') as f:
                words = ' '.join(rng.choice(WORDS) for _ in range(16))
                subprocess.run(['espeak-ng', '-v', voice, '-s', str(rng.randrange(110, 190)), '-p', str(rng.randrange(25, 75)), '-w', f.name, words], check=True)
                with wave.open(f.name) as w:
                    if w.getframerate() != RATE:
                        raise ValueError(f'a voice of {w.getframerate()} Hz')
                    y = np.frombuffer(w.readframes(w.getnframes()), np.int16).astype(np.float32)
            y = np.pad(y, (0, 5 * RATE))[:5 * RATE]
            rows.append(np.round(y / np.max(np.abs(y)) * 127).astype(np.int8))
    np.save(ROOT / 'voices.npy', np.array(rows))


if __name__ == '__main__':
    os.makedirs(ROOT, exist_ok=True)
    programs()
    fonts()
    human()
    voices()
    with tempfile.TemporaryDirectory() as scratch:
        with zipfile.ZipFile(WHEEL) as z:
            z.extractall(scratch, [n for n in z.namelist() if n.startswith('music21/corpus/')])
        tunes(Path(scratch) / 'music21/corpus')
        scores(Path(scratch) / 'music21/corpus')
    for path in sorted(p for p in ROOT.glob('*/*') if p.is_dir()):
        print(path.relative_to(ROOT), sum(1 for p in path.rglob('*') if p.is_file()))
