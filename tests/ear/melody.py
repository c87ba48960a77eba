"""Chords and tunes for songs that no person wrote: plain ones, so that what is above the accompaniment follows its bars."""
import re

CHORDS = {
    'major': ['I V vi IV', 'I vi IV V', 'vi IV I V', 'I IV I V', 'I I IV V', 'I V ii7 IV', 'ii7 V7 I vi', 'I vi ii7 V7', 'I IV V I', 'I I V V',
              'I I I I IV IV I I V7 IV I V7', 'I V7 V7 I', 'I iii IV V', 'IV V I vi', 'I II7 V7 I', 'I bVII IV I', 'I I7 IV iv'],
    'minor': ['i bVI bIII bVII', 'i iv bVI V7', 'i bVII bVI V7', 'i iv i V7', 'i i iv iv V7 V7 i i', 'i bVI iv V7', 'iv bVII bIII bVI', 'i v bVI bVII'],
}
ROOTS = {'I': 0, 'II': 2, 'III': 4, 'IV': 5, 'V': 7, 'VI': 9, 'VII': 11}


def tones(chord):
    """Pitch classes of a chord above the tonic."""
    flat, root, seventh = re.match(r'(b?)([iIvV]+)(7?)', chord).groups()
    r = ROOTS[root.upper()] - (1 if flat else 0)
    out = [r, r + (3 if root.islower() else 4), r + 7] + ([r + 10] if seventh else [])
    return [t % 12 for t in out]


def melody(metre, bars, chords, mode, rng):
    """[(from, to, semitones above the tonic, velocity)] in beats from the section's start: a motif of two bars, varied and repeated, maybe with a pick-up."""
    beats, parts = metre
    scale = [0, 2, 4, 5, 7, 9, 11] if mode == 'major' else [0, 2, 3, 5, 7, 8, 10]
    dense = rng.uniform(.25, .7)
    off = rng.uniform(.1, .5)

    def rhythm():
        grid = [i / parts for i in range(beats * parts)]
        kept = [g for g in grid if rng.random() < (dense + .25 if g % 1 == 0 else dense * off * 2) * (1.3 if g == 0 else 1)]
        return kept or [0.0]

    one, two = rhythm(), rhythm()
    out, now = [], rng.randrange(0, 10)
    for bar in range(bars):
        places = one if bar % 2 == 0 else two
        if bar % 4 == 3:
            places = places[:max(1, len(places) // 2)]
        chord = tones(chords[bar % len(chords)])
        for i, g in enumerate(places):
            allowed = chord if g % 1 == 0 else scale
            near = [n for n in range(now - 7, now + 8) if n % 12 in allowed and -5 <= n <= 19]
            now = min(near, key=lambda n: abs(n - now) + 4 * rng.random()) if near else now
            until = places[i + 1] if i + 1 < len(places) else beats
            out.append((bar * beats + g, bar * beats + g + .92 * min(until - g, 2), now, rng.randrange(76, 112)))
    if rng.random() < .4:
        step = 1 / parts
        n = rng.choice([1, 1, 2, 3])
        out = [(-(n - i) * step, -(n - i - .9) * step, out[0][2] - 2 * (n - i), 88) for i in range(n)] + out
    return out
