"""Plays a piece as people do: at a tempo that breathes, not all together, with some players missing; knows where each beat fell."""
import bisect

import numpy as np


def curve(piece, rng, hand=None):
    """Seconds of each whole beat of the piece (first beat at index 0), by one of six hands, and a word for which."""
    count = int(np.ceil(piece.end)) + 8
    if piece.map:
        places, seconds = piece.map
        at = np.interp(np.arange(count), places, seconds)
        tail = (seconds[-1] - seconds[-2]) / max(1e-6, places[-1] - places[-2]) if len(places) > 1 else .5
        over = np.arange(count) > places[-1]
        at[over] = seconds[-1] + (np.arange(count)[over] - places[-1]) * tail
        if hand is None and rng.random() < .35:
            return at * rng.uniform(.97, 1.03), 'own'
        lengths = np.diff(at, append=at[-1] + tail) * rng.uniform(.86, 1.16)
    else:
        lengths = np.full(count, 60 / piece.tempo)
    hand = hand or rng.choices(['even', 'drift', 'human', 'breathing', 'free'], [4, 2, 2, 1.6, .8])[0]
    k = np.arange(count)
    rs = np.random.default_rng(rng.randrange(1 << 30))
    bars = np.array([b for b, _ in piece.bars])
    if hand == 'drift':
        lengths = lengths * (1 + rng.uniform(.005, .04) * np.sin(2 * np.pi * k / rng.uniform(40, 200) + rng.uniform(0, 6.3)))
    elif hand == 'human':
        slow = np.convolve(rs.standard_normal(count + 32), np.hanning(33) / np.sqrt((np.hanning(33) ** 2).sum()), 'valid')[:count]
        lengths = lengths * (1 + rng.uniform(.008, .02) * slow + .008 * rs.standard_normal(count))
    elif hand in ('breathing', 'free'):
        beats = piece.metre[0]
        phrase = beats * rng.choice([4, 4, 8, 2])
        depth = rng.uniform(.03, .10) if hand == 'breathing' else rng.uniform(.1, .25)
        x = (k % phrase) / phrase
        # Quicker to the middle of the phrase and slower to its end (Todd 1985: a parabola).
        lengths = lengths * (1 + depth * ((2 * x - .9) ** 2 - .4)) * (1 + rng.uniform(.01, .03) * rs.standard_normal(count))
        if hand == 'free':
            for end in range(phrase - 1, count, phrase):
                if rng.random() < .3:
                    lengths[end] *= rng.uniform(1.25, 2.2)
            lengths *= np.exp(np.convolve(rs.standard_normal(count + 16), np.hanning(17) / np.hanning(17).sum(), 'valid')[:count] * rng.uniform(0, .3))
    elif hand == 'rubato':
        lengths = lengths * rubato(count, piece.metre[0], rng, rs)
    if rng.random() < .35 and len(bars):
        n = int(rng.choice([2, 4, 6, 8]))
        last = int(piece.bars[-1][0] + piece.bars[-1][1])
        a = max(0, last - n)
        lengths[a:last] *= np.linspace(1.04, rng.uniform(1.15, 1.7), max(0, last - a))
        lengths[last:] *= 1.3
    return np.concatenate([[0], np.cumsum(lengths)])[:count], hand


def rubato(count, beats, rng, rs):
    """
    How much longer than written each beat is where no clock is followed: phrases of any length that quicken and slow down, held notes, a new
    pace after a phrase, bars whose beats are not alike. For the training alone: what is measured is played by `curve`'s other hands.
    """
    out, k, pace = np.ones(count), 0, 1.0
    depth = rng.uniform(.05, .35)
    while k < count:
        phrase = beats * rng.choice([2, 4, 4, 4, 8])
        n = min(phrase, count - k)
        top = rng.uniform(.3, .7)
        out[k:k + n] *= pace * (1 + depth * rng.uniform(.4, 1.2) * (((np.arange(n) / phrase - top) / max(top, 1 - top)) ** 2 - .35))
        if rng.random() < .45:
            slow = min(n, rng.choice([1, 2, beats]))
            out[k + n - slow:k + n] *= np.linspace(1.08, rng.uniform(1.15, 1.7), slow)
        if rng.random() < .3:
            out[k + (n - 1 if rng.random() < .6 else rng.randrange(n))] *= rng.uniform(1.3, 3)
        if rng.random() < .15:
            pace = min(1.5, max(.67, pace * rng.uniform(.78, 1.28)))
        k += n
    out *= (1 + rng.uniform(0, .06) * rs.standard_normal(beats))[np.arange(count) % beats]
    slow = np.convolve(rs.standard_normal(count + 16), np.hanning(17) / np.sqrt((np.hanning(17) ** 2).sum()), 'valid')[:count]
    return np.clip(out * np.exp(rng.uniform(0, .1) * slow) * (1 + rng.uniform(.005, .05) * rs.standard_normal(count)), .45, 4)


def perform(piece, rng, longest, plain=False, hand=None):
    """
    plain: as written, for measuring. Gives (events in seconds, truth), truth holding beats with their place in the bar, sections, metre.
    A song longer than `longest` seconds begins at a bar of its middle or ends early.
    """
    at, hand = (np.interp(np.arange(int(piece.end) + 8), *piece.map), 'own') if plain and piece.map else \
        (np.arange(int(np.ceil(piece.end)) + 8) * 60 / (piece.tempo or 100), 'even') if plain else curve(piece, rng, hand)
    seconds = lambda place: float(np.interp(place, np.arange(len(at)), at))
    start = 0.0
    if not plain and rng.random() < .4:
        whole = seconds(piece.end)
        if whole > 70:
            spare = max(0, whole - longest)
            choices = [s for s, _ in piece.sections if 0 < seconds(s) <= max(spare, 20)] or [b for b, _ in piece.bars if 0 < seconds(b) < max(spare, 20)]
            if choices:
                start = rng.choice(choices)
    lead = rng.uniform(.05, 1.5) if not plain else .5
    offset = lead - seconds(start)
    if start == 0:
        pick_up = min((n[0] for n in piece.notes), default=0)
        offset = lead - min(seconds(start), seconds(pick_up))
    channels = {n[2] for n in piece.notes}
    drop, program, loud, late, loose = set(), {}, {}, {}, {}
    turn = 0
    if not plain:
        turn = rng.randrange(-5, 7)
        others = sorted(c for c in channels if c != 9)
        if 9 in channels and len(others) >= 2 and rng.random() < .3:
            drop.add(9)
        if len(others) > 2 and rng.random() < .35:
            drop.add(rng.choice(others))
        tight = rng.random() < .65
        for c in sorted(channels):
            loud[c] = rng.uniform(.5, 1.2)
            late[c] = rng.gauss(0, .005 if tight else .014)
            loose[c] = rng.choice([0, .003, .006, .012])
            if c != 9 and rng.random() < .45:
                program[c] = rng.choice([0, 0, 1, 4, 5, 6, 11, 16, 18, 21, 22, 24, 24, 25, 26, 27, 32, 33, 40, 42, 46, 48, 49, 50, 52, 56, 61, 66, 68, 71, 73, 80, 88, 89])
    rolled = 0
    if hand == 'rubato':
        if 9 in channels and len(channels) > 1 and rng.random() < .7:
            drop.add(9)
        one = rng.choice([0, 0, 0, 1, 24, 46, 48, 19, 21]) if rng.random() < .5 else None
        for c in sorted(channels - {9}):
            loose[c] = rng.uniform(.004, .025)
            if one is not None:
                program[c] = one
        rolled = rng.uniform(0, .03) if rng.random() < .4 else 0
    events = []
    for c in program:
        events.append((0, bytes([0xC0 | c, program[c]])))
    for place, e in piece.controls:
        c = e[0] & 15
        if c in drop or e[0] >> 4 == 0xC and c in program:
            continue
        t = seconds(place) + offset
        if t < longest and (place >= start or e[0] >> 4 in (0xB, 0xC)):
            events.append((max(0, t) if place >= start else 0, e))
    before, nth = None, 0
    for a, b, c, key, velocity in piece.notes:
        if c in drop or a < start - 1e-6:
            continue
        # A chord that is rolled: each of its notes after the one below it.
        nth = nth + 1 if (a, c) == before else 0
        before = a, c
        wobble = late.get(c, 0) + (rng.gauss(0, loose[c]) if loose.get(c) else 0)
        wobble += rolled * nth if c != 9 else 0
        t, u = seconds(a) + offset + wobble, seconds(b) + offset + wobble
        if t > longest:
            continue
        k = key if c == 9 else min(127, max(0, key + turn))
        v = int(min(127, max(6, velocity * loud.get(c, 1))))
        events.append((t, bytes([0x90 | c, k, v])))
        events.append((max(t + .02, u), bytes([0x80 | c, k, 0])))
    last = max((t for t, e in events if e[0] >> 4 == 9), default=0)
    beats = [(seconds(p) + offset, n) for p, n in piece.beats() if p >= start - 1e-6]
    beats = [(t, n) for t, n in beats if 0 <= t <= last + .05]
    sections = [(seconds(p) + offset, label) for p, label in piece.sections if p >= start - 1e-6]
    return events, dict(beats=beats, sections=[s for s in sections if s[0] < last], metre=piece.metre, hand=hand, end=last,
                        drums=9 in channels and 9 not in drop, family=piece.family, name=piece.name)
