"""Songs of our own: accompaniments drawn by rule in any metre, many of them compound and fast waltzes, of which styles at hand have few."""
from melody import CHORDS, melody, tones
from piece import Piece

TEMPOS = {(2, 2): (70, 132), (3, 2): (72, 206), (4, 2): (56, 196), (2, 3): (40, 112), (3, 3): (44, 96), (4, 3): (42, 104)}
FORMS = ['ABABCB', 'AABA', 'AABABC', 'ABCABCD', 'ABAB', 'AABBCC', 'ABACAD', 'AAAA', 'ABCBDB']
KEYS = [0, 0, 1, 2, 4, 4, 5, 6, 7, 11, 19, 24, 24, 25, 26, 27, 46]
PADS = [16, 19, 48, 49, 50, 51, 52, 88, 89, 91, 94]
LEADS = [0, 21, 22, 24, 40, 41, 42, 52, 53, 54, 56, 60, 64, 65, 66, 68, 71, 73, 75, 78, 80, 81, 85]


def compose(rng, metre=None):
    metre = metre or rng.choices([(4, 2), (3, 2), (2, 3), (4, 3), (2, 2), (3, 3)], [2.5, 3.5, 5.5, 5, 1.2, 2.3])[0]
    beats, parts = metre
    low, high = TEMPOS[metre]
    tempo = low * (high / low) ** rng.random()
    fast = tempo > 145
    mode = rng.choice(['major', 'major', 'minor'])
    form = rng.choice(FORMS)
    unit = rng.choice([8, 8, 16, 12, 4]) if not fast else rng.choice([16, 16, 8, 32])
    tonic = rng.randrange(-5, 7)
    song = Song(metre, fast, rng, crossed=True)
    letters = {}
    slow_harmony = fast and rng.random() < .6
    for letter in set(form):
        chords = rng.choice(CHORDS[mode]).split()
        if slow_harmony:
            chords = [c for c in chords for _ in (0, 1)]
        if rng.random() < .15 and beats == 4:
            chords = [c for c in chords]
        letters[letter] = dict(chords=chords, parts=song.parts_for(letter), level=rng.uniform(.7, 1.05),
                               tune=melody(metre, unit, chords, mode, rng) if rng.random() < .8 else [],
                               half=rng.random() < .25)
    sections, bar = [], 0
    plan = ([('i', form[0], rng.choice([2, 4, 4, 8]))] if rng.random() < .7 else []) + [(x, x, unit) for x in form] + [('o', form[-1], rng.choice([1, 2, 4]))]
    shift = 0
    drums_from = rng.choice([0, 0, 0, 1, 2])
    for n, (letter, material, count) in enumerate(plan):
        if bar * beats * 60 / tempo > 150:
            break
        it = letters[material]
        sections.append((bar * beats, letter))
        if n == len(plan) - 2 and rng.random() < .12:
            shift = rng.choice([1, 2])
        if it['tune'] and letter not in 'io':
            song.sing(bar * beats, it['tune'], 60 + tonic + shift, it['level'])
        for k in range(count):
            chord = it['chords'][k % len(it['chords'])]
            song.bar(bar * beats, chord, tonic + shift, it, drums=n >= drums_from and letter != 'o', first=k == 0, last=k == count - 1,
                     thin=letter in 'io')
            bar += 1
    return Piece(f'own {METRES_NAME[metre]}', 'own', metre, sorted(song.notes), song.controls, [(k * beats, beats) for k in range(bar)], sections, tempo=tempo)


METRES_NAME = {(2, 2): '24', (3, 2): '34', (4, 2): '44', (2, 3): '68', (3, 3): '98', (4, 3): '128'}


class Song:
    """With `crossed`, some songs have rhythms that cut across their beats; tunes that are held out are accompanied without."""

    def __init__(self, metre, fast, rng, crossed=False):
        self.beats, self.parts = metre
        self.fast, self.rng = fast, rng
        self.notes = []
        self.swing = rng.choice([0, 0, 0, .1, .15, .17]) if self.parts == 2 and not fast else 0
        self.early = rng.choice([0, 0, .06, .12]) if metre == (3, 2) and fast else 0
        self.drummed = rng.random() < (.55 if self.parts == 2 else .6)
        self.kit = self.beat_of_drums()
        self.bell = self.crossing() if crossed and rng.random() < .4 else None
        r = rng
        programs = {0: r.choice(KEYS), 1: r.choice([32, 33, 33, 34, 35, 43, 0, 58]), 2: r.choice(KEYS), 3: r.choice(PADS), 4: r.choice(LEADS)}
        self.controls = [(0, bytes([0xC0 | c, p])) for c, p in programs.items()]
        self.controls += [(0, bytes([0xB0 | c, 7, r.randrange(60, 118)])) for c in (0, 1, 2, 3, 4, 9)]

    def put(self, at, length, channel, key, velocity):
        part = at % 1
        if self.swing and abs(part - .5) < .02:
            at += self.swing
        if self.early and abs(at % self.beats - 1) < .02:
            at -= self.early
        key = int(key)
        if channel != 9:
            while key < 28:
                key += 12
            while key > 96:
                key -= 12
        self.notes.append((max(0.0, at), max(0, at) + length, channel, key, int(max(10, min(126, velocity + self.rng.gauss(0, 5))))))

    def crossing(self):
        """So many strokes spread as evenly as can be over a bar's parts or two bars' (Toussaint 2005), and what strikes them: a bell or the chords."""
        r = self.rng
        bars = 1 if self.beats * self.parts >= 8 else r.choice([1, 2])
        n = self.beats * self.parts * bars
        strokes = r.choice([k for k in range(2, n) if n % k or k not in (self.beats * bars, n)] or [2])
        turn = r.choice([0, 0, 0, r.randrange(n)])
        places = sorted((i * n // strokes + turn) % n for i in range(strokes))
        return dict(bars=bars, places=[p / self.parts for p in places], key=r.choice([56, 67, 75, 76, 61, 64, 54]) if r.random() < .6 else None)

    def cross(self, at, upper, velocity):
        bar = round(at / self.beats)
        for place in self.bell['places']:
            if not 0 <= place - bar % self.bell['bars'] * self.beats < self.beats:
                continue
            g = at + place - bar % self.bell['bars'] * self.beats
            if self.bell['key']:
                self.put(g, .1, 9, self.bell['key'], velocity - 14)
            else:
                for t in upper:
                    self.put(g, .4, 2, t, velocity - 12)

    def parts_for(self, letter):
        """Which instruments play a section, and how."""
        r, b = self.rng, self.beats
        comp = r.choices(['after', 'arpeggio', 'blocks', 'strum', 'held', 'off', 'none'],
                         [2.2 if b == 3 else 1.2, 3 if self.parts == 3 else 1.5, 1.5, 1.5, .8, .6 if self.parts == 2 else .2, .5])[0]
        bass = r.choices(['one', 'root fifth', 'beats', 'line', 'pushed', 'none'], [2, 2, .8, .7, .8 if self.parts == 2 else .3, .7])[0]
        up = list(range(r.choice([3, 4])))
        order = r.choice([up, up + up[-2:0:-1], [0, 2, 1, 2], [0, 1, 2, 1], up[::-1]])
        grid = [i / self.parts for i in range(b * self.parts)]
        strum = [g for g in grid if r.random() < (.85 if g % 1 == 0 else .45)] or [0.0]
        return dict(comp=comp, bass=bass, order=order, strum=strum, fine=r.random() < .25 and not self.fast and self.parts == 2,
                    pad=r.random() < .35)

    def bar(self, at, chord, tonic, it, drums, first, last, thin):
        r, b, p = self.rng, self.beats, self.parts
        how, level = it['parts'], it['level'] * (.8 if thin else 1)
        pcs = tones(chord)
        root = 36 + (tonic + pcs[0]) % 12
        upper = sorted(52 + (tonic + t + 8) % 12 for t in pcs)
        v = 82 * level
        bass, comp = how['bass'], how['comp']
        if bass == 'one':
            self.put(at, b * .9, 1, root, v + 8)
        elif bass == 'root fifth':
            self.put(at, .9, 1, root, v + 8)
            if b == 4:
                self.put(at + 2, .9, 1, root + 7 if r.random() < .7 else root, v)
            elif b == 2:
                self.put(at + 1, .9, 1, root + 7, v)
            elif r.random() < .3:
                self.put(at + 2, .8, 1, root + 7, v - 8)
        elif bass == 'beats':
            for k in range(b):
                self.put(at + k, .8, 1, root + (0 if k % 2 == 0 else r.choice([0, 7, 12])), v + (6 if k == 0 else -2))
        elif bass == 'line':
            line = [0, r.choice([2, 4, 3]), 7, r.choice([5, 9, 8])]
            for k in range(b):
                self.put(at + k, .9, 1, root + line[k % 4], v)
        elif bass == 'pushed':
            self.put(at, 1 / p + .9, 1, root, v + 6)
            if b >= 2:
                self.put(at + b / 2 - (1 / p if b == 4 and r.random() < .6 else 0), .8, 1, root, v - 4)
            if r.random() < .4:
                self.put(at + b - 1 / p, .4, 1, root + 7, v - 10)
        if comp == 'after':
            for k in range(b):
                if k % 2 == 0 and b != 3 or k == 0:
                    continue
                for t in upper:
                    self.put(at + k, .45, 0, t, v - 14)
            if p == 3 and b in (2, 4):
                for k in range(b):
                    for t in upper:
                        self.put(at + k + 2 / 3, .25, 0, t, v - 16)
        elif comp == 'arpeggio':
            n = b * p * (2 if how['fine'] else 1)
            voices = [root + 12, *upper, upper[0] + 12]
            for k in range(n):
                self.put(at + k * b / n, 1.4 * b / n, 0, voices[1 + how['order'][k % len(how['order'])] % (len(voices) - 1)] if k else voices[0],
                         v - (8 if k % p else 2) - (0 if k else -6))
        elif comp == 'blocks':
            for k in range(b):
                for t in upper:
                    self.put(at + k, .85, 0, t, v - (6 if k == 0 else 12))
        elif comp == 'strum':
            for g in how['strum']:
                for j, t in enumerate(upper):
                    self.put(at + g + .02 * j, .5, 2, t, v - (10 if g % 1 == 0 else 18))
        elif comp == 'held':
            for t in upper:
                self.put(at, b * .97, 2, t, v - 10)
        elif comp == 'off':
            for k in range(b):
                for t in upper:
                    self.put(at + k + .5, .35, 2, t, v - 12)
        if how['pad']:
            for t in upper:
                self.put(at, b * .98, 3, t + 12, v - 26)
        if self.bell and not thin:
            self.cross(at, upper, v)
        if drums and self.drummed:
            self.drums(at, level, first, last, it['half'])

    def beat_of_drums(self):
        r, b, p = self.rng, self.beats, self.parts
        grid = [i / p for i in range(b * p)]
        back = {2: [1], 3: r.choice([[1, 2], [2], [1]]), 4: [1, 3]}[b]
        kick = {2: [0], 3: [0], 4: r.choice([[0, 2], [0], [0, 1, 2, 3], [0, 2, 2.5 if p == 2 else 2 + 2 / 3]])}[b][:]
        kick += [g for g in grid if g % 1 and r.random() < .1]
        hats = {'all': grid, 'beats': [g for g in grid if g % 1 == 0], 'off': [g for g in grid if g % 1], 'none': []}[
            r.choices(['all', 'beats', 'off', 'none'], [4 if not self.fast else 1, 3, .4, 1])[0]]
        return dict(kick=kick, back=back, hats=hats, snare=r.choice([38, 38, 40, 37, 39]), hat=r.choice([42, 42, 51, 44, 70, 69]),
                    skip=r.choice([0, 0, .1, .25]), crash=r.random() < .6, fill=r.random() < .7)

    def drums(self, at, level, first, last, half):
        r, k = self.rng, self.kit
        v = 96 * level
        back = [2] if half and self.beats == 4 else k['back']
        for g in k['kick']:
            if r.random() >= k['skip']:
                self.put(at + g, .2, 9, 36, v + (4 if g == 0 else -4))
        for g in back:
            if r.random() >= k['skip'] / 2:
                self.put(at + g, .2, 9, k['snare'], v)
        for g in k['hats']:
            self.put(at + g, .1, 9, k['hat'], v - (28 if g % 1 == 0 else 38))
        if first and k['crash']:
            self.put(at, .5, 9, 49, v)
        if last and k['fill']:
            n = 4 if self.parts == 2 else 3
            for i in range(n):
                self.put(at + self.beats - 1 + i / n, .2, 9, r.choice([38, 45, 47, 50, 43]), v - 8)

    def sing(self, at, tune, key, level):
        for a, b, n, v in tune:
            self.put(at + a, b - a, 4, key + n, v * level)
