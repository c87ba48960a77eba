"""
train.py SONGS STATE SECONDS WHOLE CHANNELS LAYERS KERNEL: trains for SECONDS and leaves STATE.pt to go on from; WHOLE is how many seconds of
training are meant in all, by which the learning rate falls (a cosine). Songs that are written meanwhile are read in.
"""
import glob
import math
import os
import sys
import time
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

from features import BYTE, HOP, RATE
from net import METRES, Net

STEP = RATE / HOP / 4
LENGTH = 1000
BATCH = 48
RATE_TOP = 3e-3
device = 'cuda' if torch.cuda.is_available() else 'cpu'


def read(path):
    try:
        d = np.load(path)
        x, z, beats, places = d['x'], d['z'], d['beats'], d['places']
    except Exception:
        return None
    steps = min(len(z), len(x) // 2)
    if steps < 400:
        return None
    x, z = x[:2 * steps], z[:steps]
    y = np.zeros((2 * steps, 2), np.uint8)
    for t, n in zip(beats, places):
        at = t * 2 * STEP
        for k in (math.floor(at), math.floor(at) + 1):
            if 0 <= k < 2 * steps:
                value = 2 if abs(at - k) <= .5 else 1
                y[k, 0] = max(y[k, 0], value)
                if n == 1:
                    y[k, 1] = max(y[k, 1], value)
    s = np.zeros(steps, np.uint8)
    for t in d['sections']:
        at = t * STEP
        for k in range(int(at) - 4, int(at) + 6):
            if 0 <= k < steps:
                s[k] = max(s[k], max(0, int(round(255 * (1 - abs(k - at) / 5)))))
    # Before the first and after the last beat it is not known what is counted.
    known = np.zeros(steps, np.uint8)
    if len(beats):
        known[int(max(0, beats[0] * STEP - 8)):int(beats[-1] * STEP + 8)] = 1
    metre = METRES.index(tuple(int(v) for v in d['metre']))
    named = len(d['sections']) > 2
    y = y.reshape(steps, 2, 2)
    return x.reshape(steps, 2, -1), z, np.concatenate([y[:, :, 0], y[:, :, 1]], 1), s, known, metre, named, str(d['family']).split()[0]


class Songs:
    """Everything in one piece of the device's memory."""

    def __init__(self):
        self.seen, self.length, self.metre, self.named, self.family = set(), [], [], [], []
        self.parts = [[] for _ in range(5)]
        self.held = None

    def more(self, folder):
        paths = [p for p in sorted(glob.glob(f'{folder}/*.npz')) if p not in self.seen and not p.endswith('.tmp.npz')]
        self.seen.update(paths)
        with ThreadPoolExecutor(4) as pool:
            found = [f for f in pool.map(read, paths) if f]
        if not found:
            return
        for i in range(5):
            part = torch.from_numpy(np.concatenate([f[i] for f in found])).to(device)
            self.parts[i] = part if len(self.parts[i]) == 0 else torch.cat([self.parts[i], part])
        self.length += [len(f[1]) for f in found]
        self.metre += [f[5] for f in found]
        self.named += [f[6] for f in found]
        self.family += [f[7] for f in found]
        self.starts = torch.tensor(np.concatenate([[0], np.cumsum(self.length)[:-1]]), device=device)
        self.lengths = torch.tensor(self.length, device=device)
        self.metres = torch.tensor(self.metre, device=device)
        self.sectioned = torch.tensor(self.named, device=device).float()

    def batch(self, n):
        which = torch.randint(0, len(self.length), (n,), device=device)
        room = (self.lengths[which] - LENGTH).clamp(min=0)
        at = (torch.rand(n, device=device) * (room + 1)).long()
        k = torch.arange(LENGTH, device=device)[None] + at[:, None]
        inside = k < self.lengths[which][:, None]
        index = self.starts[which][:, None] + torch.minimum(k, self.lengths[which][:, None] - 1)
        x, z, y, s, known = (p[index] for p in self.parts)
        gain = inside[..., None]
        return (x.float() * gain[..., None] / BYTE, z.float() * gain / BYTE, y.float() / 2, s.float() / 255,
                (known.bool() & inside).float(), self.metres[which], self.sectioned[which])


def varied(x, z):
    """x: batch, steps, 2, bands; louder and softer, bands silenced, a little up or down. Cheap, beside what is done to the sound."""
    n = len(x)
    gain = .75 + .5 * torch.rand(n, 1, 1, device=device)
    x = x * gain[..., None]
    z = z * gain
    for t, size in ((x, x.shape[-1]), (z, z.shape[-1])):
        width = torch.randint(0, size // 4, (n, 1), device=device) * (torch.rand(n, 1, device=device) < .3)
        low = (torch.rand(n, 1, device=device) * size).long()
        k = torch.arange(size, device=device)[None]
        mask = ((k < low) | (k >= low + width)).float()
        t *= mask.view(n, *([1] * (t.dim() - 2)), size)
    if torch.rand(1).item() < .5:
        x = torch.roll(x, int(torch.randint(-2, 3, (1,)).item()), -1)
        z = torch.roll(z, int(torch.randint(-3, 4, (1,)).item()), -1)
    return x, z


def loss_of(net, batch, train):
    x, z, y, s, known, metre, sectioned = batch
    if train:
        x, z = varied(x, z)
    with torch.autocast(device, torch.bfloat16, enabled=device == 'cuda'):
        o, m = net(x.flatten(1, 2), z)
    o = o.float().transpose(1, 2)
    weight = torch.where(y > 0, torch.tensor([4., 4., 8., 8.], device=device), torch.ones(4, device=device))
    beats = F.binary_cross_entropy_with_logits(o[..., :4], y, weight=weight, reduction='none').mean(2)
    section = F.binary_cross_entropy_with_logits(o[..., 4], s, weight=1 + 6 * s, reduction='none') * sectioned[:, None]
    three = F.binary_cross_entropy_with_logits(o[..., 5], (metre >= 3).float()[:, None].expand_as(s), reduction='none')
    frames = ((beats + .1 * section + .04 * three) * known).sum() / known.sum()
    return frames + .02 * F.cross_entropy(m.float(), metre), (beats * known).sum() / known.sum()


def main():
    folder, state, seconds, whole = sys.argv[1], sys.argv[2], float(sys.argv[3]), float(sys.argv[4])
    channels, layers, kernel = (int(a) for a in sys.argv[5:8])
    began = time.time()
    torch.manual_seed(1)
    if device == 'cuda':
        torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
        torch.backends.cudnn.benchmark = True
    net = Net(channels, layers, kernel).to(device)
    mean = Net(channels, layers, kernel).to(device)
    mean.load_state_dict(net.state_dict())
    opt = torch.optim.AdamW(net.parameters(), lr=RATE_TOP, weight_decay=1e-3)
    spent, it = 0.0, 0
    if os.path.exists(state + '.pt'):
        kept = torch.load(state + '.pt', map_location=device, weights_only=False) if device == 'cuda' else torch.load(state + '.pt', map_location=device)
        net.load_state_dict(kept['net'])
        mean.load_state_dict(kept['mean'])
        opt.load_state_dict(kept['opt'])
        spent, it = kept['spent'], kept['it']
    print('weights', sum(p.numel() for p in net.parameters()), flush=True)
    songs = Songs()
    while len(songs.length) < int(os.environ.get('LEAST', 300)):
        songs.more(folder)
        time.sleep(2)
    print('songs', len(songs.length), 'after', round(time.time() - began), flush=True)
    start, looked, told, run = time.time(), time.time(), time.time(), []

    def keep():
        torch.save(dict(net=net.state_dict(), mean=mean.state_dict(), opt=opt.state_dict(), spent=spent + time.time() - start, it=it,
                        shape=(channels, layers, kernel)), state + '.tmp')
        os.replace(state + '.tmp', state + '.pt')

    while time.time() - began < seconds:
        share = min(1, (spent + time.time() - start) / whole)
        for group in opt.param_groups:
            group['lr'] = RATE_TOP * min(1, (it + 1) / 300) * (.5 * (1 + math.cos(math.pi * share)) + .005)
        net.train()
        loss, beats = loss_of(net, songs.batch(BATCH), True)
        opt.zero_grad(set_to_none=True)
        loss.backward()
        nn.utils.clip_grad_norm_(net.parameters(), 1.)
        opt.step()
        it += 1
        with torch.no_grad():
            fade = min(.999, it / (it + 20))
            for a, b in zip(mean.state_dict().values(), net.state_dict().values()):
                if a.dtype.is_floating_point:
                    a.lerp_(b, 1 - fade)
                else:
                    a.copy_(b)
        run.append(beats.detach())
        if time.time() - told > 20:
            told = time.time()
            print(it, 'beats %.4f' % torch.stack(run).mean().item(), 'songs', len(songs.length), 'share %.2f' % share, 's', round(time.time() - began), flush=True)
            run = []
        if time.time() - looked > 45:
            songs.more(folder)
            looked = time.time()
            keep()
    keep()
    print('steps', it, 'songs', len(songs.length), {f: songs.family.count(f) for f in set(songs.family)},
          [songs.metre.count(m) for m in range(len(METRES))], 's', round(time.time() - began), flush=True)


main()
