"""From events to sound, and from clean sound to what may reach the program: rooms, mastering, small files, voices, hiss."""
import os
import subprocess

import numpy as np
from scipy.signal import fftconvolve, istft, lfilter, stft

import smf
from features import RATE


def program(root, name):
    """How to call a renderer: an installed one, or a copy with its libraries beside it."""
    own = os.path.join(root, 'fluid')
    if os.path.exists(own):
        return [f'{own}/lib/ld-linux-x86-64.so.2', '--library-path', f'{own}/lib', f'{own}/{name}']
    return [name]


def render(events, font, root, scratch, longest, rng=None, rate=RATE, stereo=False):
    """Samples at `rate`, one channel unless `stereo`."""
    midi, raw = os.path.join(scratch, 'play.mid'), os.path.join(scratch, 'play.raw')
    smf.write(midi, events)
    if os.path.isdir(font):
        return patched(events, font, root, midi, raw, longest)
    call = program(root, 'fluidsynth') + ['-ni', '-q', '-g', '0.45', '-r', str(rate), '-O', 's16', '-T', 'raw', '-F', raw]
    # Of a compressed font only the instruments that play are unpacked: the same sound in a sixth of the time.
    call += ['-o', 'synth.dynamic-sample-loading=1']
    if rng:
        call += ['-R', rng.choice(['0', '1', '1']), '-C', rng.choice(['0', '1']),
                 '-o', f'synth.reverb.room-size={rng.uniform(.1, .9):.2f}', '-o', f'synth.reverb.level={rng.uniform(.2, .9):.2f}']
    subprocess.run(call + [font, midi], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=60)
    with open(raw, 'rb') as f:
        y = np.frombuffer(f.read(), np.int16).astype(np.float32).reshape(-1, 2) / 32768
    os.remove(raw)
    y = y[:int(longest * rate)]
    return y if stereo else y.mean(1)


def patched(events, folder, root, midi, raw, longest):
    """By a set of patches: instruments that it lacks are played by the nearest that it has."""
    with open(f'{folder}/freepats.cfg') as f:
        text = f.read()
    has = [int(line.split()[0]) for line in text.split('bank 0')[1].splitlines() if line.strip()[:1].isdigit()]
    nearest = lambda p: min(has, key=lambda h: (h // 8 != p // 8, abs(h - p)))
    events = [(t, bytes([e[0], nearest(e[1])]) if e[0] >> 4 == 0xC and e[0] & 15 != 9 else e) for t, e in events if e[0] != 0xC9]
    used = {e[0] & 15 for _, e in events if e[0] >> 4 == 9} - {9}
    told = {e[0] & 15 for _, e in events if e[0] >> 4 == 0xC}
    events += [(0, bytes([0xC0 | c, nearest(0)])) for c in used - told]
    smf.write(midi, events)
    settings = midi + '.cfg'
    with open(settings, 'w') as f:
        f.write(text.replace('@HERE@', os.path.abspath(folder)))
    subprocess.run(program(root, 'wildmidi') + ['-c', settings, '-r', '22050', '-o', raw, midi], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                   stdin=subprocess.DEVNULL, timeout=60)
    with open(raw, 'rb') as f:
        y = np.frombuffer(f.read()[44:], np.int16).astype(np.float32).reshape(-1, 2) / 32768
    os.remove(raw)
    return y[:int(longest * RATE)].mean(1)


def worn(y, rng, voices):
    """Each thing happens to some songs only; a third are left as they are."""
    rs = np.random.default_rng(rng.randrange(1 << 30))
    y = y / (np.sqrt(np.mean(y ** 2)) * 10 + 1e-9)
    if rng.random() < .33:
        return y
    if voices and rng.random() < .3:
        y = y + spoken(len(y), rng, voices) * 10 ** (rng.uniform(-18, 0) / 20)
    if rng.random() < .35:
        y = in_room(y, rng, rs)
    if rng.random() < .5:
        y = toned(y, rng)
    if rng.random() < .5:
        gain = rng.uniform(1, 12)
        y = np.tanh(y * gain) / np.tanh(gain * .3) * .3
    if rng.random() < .25:
        y = pumped(y, rng)
    if rng.random() < .3:
        y = small_file(y, rng)
    if rng.random() < .4:
        y = y + rs.standard_normal(len(y)).astype(np.float32) * .1 * 10 ** (rng.uniform(-60, -18) / 20)
    return y.astype(np.float32)


def spoken(count, rng, voices):
    out = np.zeros(count, np.float32)
    at = rng.randrange(0, 5 * RATE)
    while at < count:
        clip = voices[rng.randrange(len(voices))]
        n = min(len(clip), count - at)
        out[at:at + n] += clip[:n]
        at += n + rng.randrange(0, 8 * RATE)
    return out


def in_room(y, rng, rs):
    """Noise that dies away (Moorer 1979), after a short wait."""
    decay = rng.uniform(.2, 2.2)
    n = int(decay * RATE)
    answer = rs.standard_normal(n).astype(np.float32) * 10 ** (-3 * np.arange(n) / n)
    answer = lfilter([1 - .6], [1, -rng.uniform(.3, .8)], answer).astype(np.float32)
    wet = fftconvolve(y, np.concatenate([np.zeros(rng.randrange(50, 800)), answer]))[:len(y)]
    wet *= np.sqrt(np.mean(y ** 2)) / (np.sqrt(np.mean(wet ** 2)) + 1e-9)
    return y + wet * 10 ** (rng.uniform(-14, 1) / 20)


def toned(y, rng):
    """A few broad tone controls, and a phone's small loudspeaker now and then."""
    f = np.fft.rfft(y)
    hertz = np.maximum(20, np.fft.rfftfreq(len(y), 1 / RATE))
    decibels = np.zeros(len(f))
    for _ in range(3):
        decibels += rng.uniform(-9, 9) * np.exp(-(np.log2(hertz / (60 * 2 ** rng.uniform(0, 7))) / rng.uniform(.5, 2)) ** 2)
    if rng.random() < .15:
        decibels -= 18 * np.maximum(0, np.log2(rng.uniform(150, 350) / hertz))
    if rng.random() < .15:
        decibels -= 30 * np.maximum(0, np.log2(hertz / rng.uniform(3000, 7000)))
    return np.fft.irfft(f * 10 ** (np.maximum(-60, decibels) / 20), len(y)).astype(np.float32)


def pumped(y, rng):
    """A slow compressor with a hard ratio, as in loud mastering."""
    n = 441
    power = np.repeat(np.mean(y[:len(y) // n * n].reshape(-1, n) ** 2, axis=1), n)
    a = np.exp(-n / RATE / rng.uniform(.05, .4))
    level = lfilter([1 - a], [1, -a], np.pad(power, (0, len(y) - len(power)), mode='edge')[::n])
    gain = (level + 1e-5) ** (-.5 * rng.uniform(.3, .8))
    return (y * np.interp(np.arange(len(y)), np.arange(len(gain)) * n, gain)).astype(np.float32)


def small_file(y, rng):
    """What a codec of a low rate leaves: soft parts of each short spectrum fall silent, loud ones are rounded coarsely."""
    _, _, z = stft(y, nperseg=1024, noverlap=512)
    size = np.abs(z)
    floor = 1e-9 + size.max(axis=0, keepdims=True) * 10 ** (-rng.uniform(18, 42) / 20)
    step = floor * rng.uniform(.5, 2)
    z = np.where(size < floor, 0, z / (size + 1e-12) * np.round(size / step) * step)
    z[int(rng.uniform(.5, 1) * len(z)):] = 0
    _, out = istft(z, nperseg=1024, noverlap=512)
    return np.pad(out, (0, max(0, len(y) - len(out))))[:len(y)].astype(np.float32)
