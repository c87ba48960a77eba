"""A piece of music counted in beats as a dancer counts them, before anybody plays it."""
import bisect
from dataclasses import dataclass, field

METRES = {(2, 2): '2/4', (3, 2): '3/4', (4, 2): '4/4', (2, 3): '6/8', (3, 3): '9/8', (4, 3): '12/8'}


@dataclass
class Piece:
    name: str
    family: str
    """Beats a bar and parts of a beat."""
    metre: tuple
    """(from, to, channel, key, velocity); places in beats."""
    notes: list
    """(place in beats, bytes): programs, controls, bends."""
    controls: list
    """Places in beats at which bars begin, ascending, and the beats of each."""
    bars: list
    """(place in beats, what is played there: the same letter is the same music)."""
    sections: list
    """Beats a minute, when the piece has no tempo map of its own."""
    tempo: float = 0
    """Its own tempo map: places in beats, seconds."""
    map: tuple = None
    end: float = field(init=False)

    def __post_init__(self):
        self.end = max((n[1] for n in self.notes), default=0)

    def beats(self):
        """(place in beats, place in the bar from 1) of every beat up to the end of the last bar."""
        out = []
        for at, beats in self.bars:
            out += [(at + k, k + 1) for k in range(beats)]
        return out


def notes_of(events, place):
    """Channel events with ticks to notes and controls, `place` giving the beat of a tick."""
    notes, controls, open_ = [], [], {}
    for tick, e in events:
        kind, channel = e[0] >> 4, e[0] & 15
        if kind == 9 and e[2] > 0:
            open_.setdefault((channel, e[1]), []).append((tick, e[2]))
        elif kind in (8, 9):
            if waiting := open_.get((channel, e[1])):
                since, velocity = waiting.pop(0)
                notes.append((place(since), max(place(since) + .02, place(tick)), channel, e[1], velocity))
        elif kind in (0xB, 0xC, 0xE):
            if kind != 0xB or e[1] in (0, 1, 7, 10, 11, 32, 64, 91):
                controls.append((place(tick), e))
    notes.sort()
    return notes, controls


def beat_of(numerator, denominator):
    """Beats a bar, parts of a beat, and quarters a beat; None for bars that no couple counts."""
    if denominator == 8 and numerator in (6, 9, 12):
        return numerator // 3, 3, 1.5
    if denominator == 8 and numerator == 3:
        return 3, 2, .5
    if denominator == 4 and numerator in (2, 3, 4):
        return numerator, 2, 1
    return None


def from_file(name, family, midi):
    """A MIDI file with its own tempo map and metre; None where its metre changes too often or is none that is danced."""
    division, events, tempos, signatures = midi
    signatures = [s for s in signatures if s[2] > 0] or [(0, 4, 4)]
    if signatures[0][0] > 0:
        signatures = [(0, 4, 4)] + signatures
    last = max((t for t, e in events if e[0] >> 4 == 9), default=0)
    if last == 0:
        return None
    edges, beats, spans = [], [], []
    bars, place = [], 0.0
    shares = {}
    for i, (tick, n, d) in enumerate(signatures):
        end = signatures[i + 1][0] if i + 1 < len(signatures) else last + 4 * division
        counted = beat_of(n, d)
        if counted is None:
            return None
        per_bar, parts, quarters = counted
        ticks = quarters * division
        if end <= tick:
            continue
        edges.append(tick)
        beats.append(place)
        spans.append(ticks)
        count = (end - tick) / ticks
        k = 0
        while k < count - 1e-6:
            bars.append((place + k, per_bar))
            k += per_bar
        shares[(per_bar, parts)] = shares.get((per_bar, parts), 0) + end - tick
        place += count
    metre, most = max(shares.items(), key=lambda s: s[1])
    if most < .9 * sum(shares.values()):
        return None

    def place_of(tick):
        i = max(0, bisect.bisect_right(edges, tick) - 1)
        return beats[i] + (tick - edges[i]) / spans[i]

    tempos = sorted(tempos)
    if not tempos or tempos[0][0] > 0:
        tempos = [(0, 500000)] + tempos
    points, seconds, now = [], [], 0.0
    for i, (tick, us) in enumerate(tempos):
        points.append(place_of(tick))
        seconds.append(now)
        until = tempos[i + 1][0] if i + 1 < len(tempos) else last + 8 * division
        now += max(0, until - tick) * us / 1e6 / division
    points.append(place_of(last + 8 * division))
    seconds.append(now)
    # A change of metre between two changes of tempo bends the line too.
    for tick in edges[1:]:
        i = max(0, bisect.bisect_right([t for t, _ in tempos], tick) - 1)
        at = seconds[i] + (tick - tempos[i][0]) * tempos[i][1] / 1e6 / division
        points.append(place_of(tick))
        seconds.append(at)
    order = sorted(set(zip(points, seconds)))
    notes, controls = notes_of(events, place_of)
    last_bar = max(n[0] for n in notes)
    return Piece(name, family, metre, notes, controls, [b for b in bars if b[0] <= last_bar + 1e-6], [],
                 map=([p for p, _ in order], [s for _, s in order]))
