"""
train.py SONGS STATE SECONDS [VALID]: trains for SECONDS and leaves STATE.pt, for export.py. Songs that are written meanwhile are read in. On the songs of
VALID, of the side to which the weights are fitted, it says now and then how the net does; it learns nothing from them. Of the environment:
SEED; LEAST songs to begin with; SHAPE, another net's channels, dilations and blocks as JSON; PLAIN, to replay no recorded steps.
"""
import glob
import json
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
LENGTH = 1250
"""Steps that are heard at a time; songs, or what of them is not known, may be shorter."""
BATCH = int(os.environ.get('BATCH', 64))
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

    def batch(self, n, which=None):
        """Of songs by lot, from anywhere within; of `which` from their middle."""
        here = .5 if which is not None else torch.rand(n, device=device)
        if which is None:
            which = torch.randint(0, len(self.length), (n,), device=device)
        room = (self.lengths[which] - LENGTH).clamp(min=0)
        at = (here * (room + 1)).long()
        k = torch.arange(LENGTH, device=device)[None] + at[:, None]
        inside = k < self.lengths[which][:, None]
        index = self.starts[which][:, None] + torch.minimum(k, self.lengths[which][:, None] - 1)
        x, z, y, s, known = (p[index] for p in self.parts)
        gain = inside[..., None]
        return (x.float() * gain[..., None] / BYTE, z.float() * gain / BYTE, y.float() / 2, s.float() / 255,
                (known.bool() & inside).float(), self.metres[which], self.sectioned[which], inside.float())


def varied(x, z):
    """x: batch, steps, 2, bands; louder and softer, bands and moments silenced (Park et al. 2019), a little up or down. Cheap, beside what is done to the sound."""
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
    width = 40 * torch.rand(n, 1, device=device) * (torch.rand(n, 1, device=device) < .3)
    low = torch.rand(n, 1, device=device) * x.shape[1]
    k = torch.arange(x.shape[1], device=device)[None]
    mask = ((k < low) | (k >= low + width)).float()[..., None]
    x *= mask[..., None]
    z *= mask
    if torch.rand(1).item() < .5:
        x = torch.roll(x, int(torch.randint(-2, 3, (1,)).item()), -1)
        z = torch.roll(z, int(torch.randint(-3, 4, (1,)).item()), -1)
    return x, z


"""How much more a beat counts than none, and a bar's start."""
RARE = torch.tensor([3., 3., 7., 7.], device=device)


def loss_of(net, batch):
    """What is minimized, and the part of it that beats and bars have."""
    x, z, y, s, known, metre, sectioned, inside = batch
    with torch.autocast(device, torch.bfloat16, enabled=device == 'cuda', cache_enabled=False):
        o, m = net(x.flatten(1, 2), z, inside)
    o = o.float().transpose(1, 2)
    weight = 1 + (y > 0) * RARE
    beats = F.binary_cross_entropy_with_logits(o[..., :4], y, weight=weight, reduction='none').mean(2)
    section = F.binary_cross_entropy_with_logits(o[..., 4], s, weight=1 + 6 * s, reduction='none') * sectioned[:, None]
    three = F.binary_cross_entropy_with_logits(o[..., 5], (metre >= 3).float()[:, None].expand_as(s), reduction='none')
    count = known.sum().clamp(min=1)
    frames = ((beats + .1 * section + .04 * three) * known).sum() / count
    counted = F.cross_entropy(m.float(), metre)
    return frames + .02 * counted, torch.stack([(beats * known).sum() / count, (three * known).sum() / count, counted]).detach()


class Steps:
    """Steps of learning from batches of one size; on a graphics processor recorded once and then replayed, since each is many small works."""

    def __init__(self, net, opt, first):
        self.net, self.opt, self.graph = net, opt, None
        if device != 'cuda' or os.environ.get('PLAIN'):
            return
        self.held = [t.clone() for t in first]
        side = torch.cuda.Stream()
        side.wait_stream(torch.cuda.current_stream())
        with torch.cuda.stream(side):
            for _ in range(11):
                self.step(self.held)
        torch.cuda.current_stream().wait_stream(side)
        self.graph = torch.cuda.CUDAGraph()
        with torch.cuda.graph(self.graph):
            self.told = self.step(self.held)

    def step(self, batch):
        self.opt.zero_grad(set_to_none=True)
        loss, told = loss_of(self.net, batch)
        loss.backward()
        nn.utils.clip_grad_norm_(self.net.parameters(), 1.)
        self.opt.step()
        return told

    def take(self, batch):
        if not self.graph:
            return self.step(batch)
        for to, it in zip(self.held, batch):
            to.copy_(it)
        self.graph.replay()
        return self.told.clone()


def validated(net, songs):
    """Mean losses over the middles of all songs, family by family."""
    net.eval()
    out = {}
    with torch.no_grad():
        for family in sorted(set(songs.family)):
            which = [i for i, f in enumerate(songs.family) if f == family]
            told = [loss_of(net, songs.batch(0, torch.tensor(which[i:i + 32], device=device)))[1] for i in range(0, len(which), 32)]
            out[family] = [round(v, 4) for v in torch.stack(told).mean(0).tolist()]
    return out


def main():
    folder, state, seconds = sys.argv[1], sys.argv[2], float(sys.argv[3])
    began = time.time()
    torch.manual_seed(int(os.environ.get('SEED', 1)))
    if device == 'cuda':
        torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
        torch.backends.cudnn.benchmark = True
    shape = json.loads(os.environ.get('SHAPE', '[]'))
    net, mean = Net(*shape).to(device), Net(*shape).to(device)
    mean.load_state_dict(net.state_dict())
    fast = device == 'cuda'
    rate = torch.tensor(1e-3 * RATE_TOP, device=device) if fast else RATE_TOP
    opt = torch.optim.AdamW(net.parameters(), lr=rate, weight_decay=1e-3, **(dict(capturable=True) if fast else {}))
    print('weights', sum(p.numel() for p in net.parameters()), flush=True)
    songs, valid = Songs(), None
    while len(songs.length) < int(os.environ.get('LEAST', 300)):
        songs.more(folder)
        time.sleep(2)
    print('songs', len(songs.length), 'after', round(time.time() - began), flush=True)
    steps = Steps(net, opt, (*varied(*songs.batch(BATCH)[:2]), *songs.batch(BATCH)[2:]))
    floats = [[p for p in it.state_dict().values() if p.dtype.is_floating_point] for it in (mean, net)]
    start, looked, told, run, it = time.time(), time.time(), time.time(), [], 0

    def keep():
        torch.save(dict(mean=mean.state_dict(), it=it, shape=net.shape), state + '.tmp')
        os.replace(state + '.tmp', state + '.pt')

    while time.time() - began < seconds:
        share = min(1, (time.time() - start) / max(1, seconds - (start - began)))
        now = RATE_TOP * min(1, (it + 1) / 300) * (.5 * (1 + math.cos(math.pi * share)) + .002)
        for group in opt.param_groups:
            if fast:
                group['lr'].fill_(now)
            else:
                group['lr'] = now
        net.train()
        batch = songs.batch(BATCH)
        run.append(steps.take((*varied(*batch[:2]), *batch[2:])))
        it += 1
        with torch.no_grad():
            fade = min(.9993, it / (it + 20))
            torch._foreach_mul_(floats[0], fade)
            torch._foreach_add_(floats[0], floats[1], alpha=1 - fade)
        if time.time() - told > 20:
            told = time.time()
            print(it, 'beats, three, metre', [round(v, 4) for v in torch.stack(run).mean(0).tolist()], 'songs', len(songs.length), 'share %.2f' % share, 's',
                  round(time.time() - began), flush=True)
            run = []
        if time.time() - looked > 60:
            songs.more(folder)
            keep()
            if len(sys.argv) > 4 and share > .3 and glob.glob(f'{sys.argv[4]}/*.npz'):
                valid = valid or Songs()
                valid.more(sys.argv[4])
                print('valid', len(valid.length), validated(mean, valid), flush=True)
            looked = time.time()
    keep()
    if valid:
        valid.more(sys.argv[4])
        print('valid', len(valid.length), validated(mean, valid), flush=True)
    print('steps', it, 'songs', len(songs.length), {f: songs.family.count(f) for f in set(songs.family)},
          [songs.metre.count(m) for m in range(len(METRES))], 's', round(time.time() - began), flush=True)


if __name__ == '__main__':
    main()
