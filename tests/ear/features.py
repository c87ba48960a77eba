"""What the net hears, made as `lib/core/song/net/input.ts` makes it: log band amplitudes of two windows."""
import os

import numpy as np

RATE = 22050
HOP = 221
SIZE = 1024
TONE_SIZE = 4096
BANDS = 60
TONES = 48
LOWEST, HIGHEST = 40, 10000
LOWEST_TONE = 55
STEEP = 300
"""Steps of a byte of stored features."""
BYTE = 40


def mel(hertz):
    return 2595 * np.log10(1 + hertz / 700)


BAND_EDGES = 700 * (10 ** (np.linspace(mel(LOWEST), mel(HIGHEST), BANDS + 1) / 2595) - 1)
TONE_EDGES = LOWEST_TONE * 2 ** ((np.arange(TONES + 1) - .5) / 12)
PER_SECOND = RATE / HOP


def powers(y, size, hop, count):
    """|X|^2 of Hann windows centred at multiples of hop; silence beyond either end."""
    window = (.5 - .5 * np.cos(2 * np.pi * np.arange(size) / size)).astype(np.float32)
    y = np.pad(y, (size // 2, size))
    out = np.empty((count, size // 2 + 1), np.float32)
    view = np.lib.stride_tricks.sliding_window_view(y, size)[::hop]
    for at in range(0, count, 1000):
        part = view[at:min(count, at + 1000)] * window
        out[at:at + len(part)] = np.abs(np.fft.rfft(part, axis=1)) ** 2
    return out


def between(power, edges, size, rate):
    """Power between the edges (Hz); bin k reaches from k - 1/2 to k + 1/2, and what is above the last is silence."""
    below = np.concatenate([np.zeros((len(power), 1)), np.cumsum(power, axis=1, dtype=np.float64)], axis=1)
    at = np.minimum(edges * size / rate + .5, power.shape[1])
    k = np.minimum(np.floor(at).astype(int), power.shape[1] - 1)
    part = below[:, k] + (at - k) * (below[:, k + 1] - below[:, k])
    return np.maximum(0, np.diff(part, axis=1))


def features(y):
    """y: mono at RATE. (frames at half of RATE / HOP a second, BANDS) and (steps at a quarter, TONES); float32."""
    y = y * (.1 / np.sqrt(np.mean(y.astype(np.float64) ** 2) + 1e-20))
    y = y.astype(np.float32)
    count = len(y) // HOP + 1
    count -= count % 4
    p = between(powers(y, SIZE, HOP, count), BAND_EDGES, SIZE, RATE)
    before = np.concatenate([p[:1], p[:-1]])
    after = np.concatenate([p[1:], p[-1:]])
    p = ((before + 2 * p + after) / 4)[::2]
    x = np.log1p(STEEP * np.sqrt(p) * 4 / SIZE)
    tones = (count - 1) // 5 + 1
    q = between(powers(y, TONE_SIZE, 5 * HOP, tones), TONE_EDGES, TONE_SIZE, RATE)
    z = np.log1p(STEEP * np.sqrt(q) * 4 / TONE_SIZE)
    step = np.minimum(tones - 1, np.floor(.8 * np.arange(count // 4) + .5).astype(int))
    return x.astype(np.float32), z[step].astype(np.float32)


def stored(x):
    return np.clip(np.round(BYTE * x), 0, 255).astype(np.uint8)


def kept(path, y, truth):
    """Writes what train.py reads of a song."""
    x, z = features(y)
    np.savez(path + '.tmp.npz', x=stored(x), z=stored(z), beats=np.array([b for b, _ in truth['beats']], np.float32),
             places=np.array([n for _, n in truth['beats']], np.int8), sections=np.array([s for s, _ in truth['sections']], np.float32),
             metre=np.array(truth['metre'], np.int8), family=truth['family'], hand=truth['hand'])
    os.rename(path + '.tmp.npz', path)
