"""Standard MIDI files: read what is played, write what is to be rendered (MIDI 1.0, Standard MIDI Files 1.0)."""
import struct


def vlq(data, at):
    value = 0
    while True:
        byte = data[at]
        at += 1
        value = value << 7 | byte & 127
        if byte < 128:
            return value, at


LENGTHS = {0x8: 2, 0x9: 2, 0xA: 2, 0xB: 2, 0xC: 1, 0xD: 1, 0xE: 2}


def read(path):
    """Division (ticks a quarter), channel events [(tick, bytes)], tempos [(tick, us a quarter)], time signatures [(tick, n, d)]."""
    with open(path, 'rb') as f:
        data = f.read()
    if data[:4] == b'RIFF':
        data = data[20:]
    if data[:4] != b'MThd':
        raise ValueError('no MIDI file')
    division = struct.unpack('>H', data[12:14])[0]
    if division & 0x8000:
        raise ValueError('counts in frames, not in quarters')
    events, tempos, signatures = [], [], []
    at = 8 + struct.unpack('>I', data[4:8])[0]
    while at + 8 <= len(data):
        kind, size = data[at:at + 4], struct.unpack('>I', data[at + 4:at + 8])[0]
        at += 8
        if kind == b'MTrk':
            read_track(data[at:at + size], events, tempos, signatures)
        at += size
    events.sort(key=lambda e: e[0])
    tempos.sort()
    signatures.sort()
    return division, events, tempos, signatures


def read_track(data, events, tempos, signatures):
    at, tick, status = 0, 0, 0
    while at < len(data):
        wait, at = vlq(data, at)
        tick += wait
        if data[at] >= 0x80:
            status = data[at]
            at += 1
        if status == 0xFF:
            kind = data[at]
            size, at = vlq(data, at + 1)
            body = data[at:at + size]
            at += size
            if kind == 0x51 and size == 3:
                tempos.append((tick, int.from_bytes(body, 'big')))
            elif kind == 0x58 and size >= 2:
                signatures.append((tick, body[0], 2 ** body[1]))
            elif kind == 0x2F:
                return
        elif status in (0xF0, 0xF7):
            size, at = vlq(data, at)
            at += size
        else:
            n = LENGTHS[status >> 4]
            events.append((tick, bytes([status]) + data[at:at + n]))
            at += n


def number(n):
    out = [n & 127]
    while n := n >> 7:
        out.insert(0, 128 | n & 127)
    return bytes(out)


def write(path, events):
    """events: [(seconds, bytes)] in any order; 1,000 ticks a quarter of half a second."""
    events = sorted((max(0, round(2000 * t)), i, e) for i, (t, e) in enumerate(events))
    last = events[-1][0] if events else 0
    # Every channel is told to fall silent, else a note left hanging is rendered for ever.
    end = [(last + 1, bytes([0xB0 | c, 64, 0])) for c in range(16)]
    end += [(last + 1, bytes([0xB0 | c, 123, 0])) for c in range(16)]
    end += [(last + 3000, bytes([0xB0 | c, 120, 0])) for c in range(16)]
    data = bytearray(b'\x00\xff\x51\x03' + (500000).to_bytes(3, 'big'))
    before = 0
    for tick, event in [(t, e) for t, _, e in events] + end:
        data += number(tick - before) + event
        before = tick
    data += b'\x00\xff\x2f\x00'
    with open(path, 'wb') as f:
        f.write(b'MThd' + struct.pack('>IHHH', 6, 0, 1, 1000) + b'MTrk' + struct.pack('>I', len(data)) + data)
