"""
fit.py EVIDENCE BEFORE.json OUT.json [SECONDS]: fits the weights of the evidence by which a way to hear a song is chosen.

EVIDENCE holds what evidence.ts wrote, of families that the net was not trained on: SIDE~FAMILY~NAME.ev, SIDE `fit` or `held`. Three fits: all evidence,
without the net's, and with the net's alone. Loss: minus the log of the share that right ways have in the softmax over all of a song's. A quarter of
the styles of `fit` stop the fit; `held` is only reported. Each begins afresh, with as many units as BEFORE has, which is reported too. `fit.py table EVIDENCE FITTED.json` reports a fit again;
`fit.py write FITTED.json WEIGHTS.ts` writes it as the product reads it.
"""
import glob
import json
import os
import re
import sys
import time
import zlib

import numpy as np
import torch

if sys.argv[1] == 'write':
    folder, before, out = None, sys.argv[2], sys.argv[3]
elif sys.argv[1] == 'table':
    folder, before, out = sys.argv[2], sys.argv[3], None
else:
    folder, before, out = sys.argv[1:4]
seconds = float(sys.argv[4]) if len(sys.argv) > 4 and out else 300
device = 'cuda' if torch.cuda.is_available() else 'cpu'
names = json.load(open(f'{folder}/names.json')) if folder else []
N, EXTRA = len(names), 6
ALONE = {'two', 'three', 'four', 'six8', 'nine8', 'twelve8', 'fastSimple', 'farSimple', 'fastCompound', 'farCompound', 'fastThree', 'farThree', 'longBar', 'farBar'}
RIGHT = .85
"""As `lib/core/song/metre.ts` stretches and lowers what is told of the metre."""
SOBERED = 1.0, .6


class Side:
    """All songs of a side, one after the other."""

    def __init__(self, paths):
        rows, self.song, self.family, self.name = [], [], [], []
        for path in paths:
            x = np.fromfile(path, np.float32).reshape(-1, N + EXTRA)
            right = (x[:, N + 2] >= RIGHT) & (x[:, N + 3] >= RIGHT) & (x[:, N + 4] > 0)
            if not right.any():
                # Played so freely that no way is right throughout: those that are nearly as right as the best.
                most = np.where((x[:, N + 4] > 0) & (x[:, N + 2] >= .5), x[:, N + 2] + x[:, N + 3], 0)
                right = (most >= .97 * most.max()) & (most > 0)
            _, family, name = os.path.basename(path)[:-3].split('~', 2)
            self.family.append(family)
            self.name.append(name)
            self.song.append(len(x))
            rows.append(np.concatenate([x, right[:, None].astype(np.float32)], 1))
        all_ = torch.from_numpy(np.concatenate(rows)).to(device)
        self.x, self.info, self.right = all_[:, :N].clamp(-30, 30), all_[:, N:N + EXTRA], all_[:, -1] > 0
        self.of = torch.repeat_interleave(torch.arange(len(self.song)), torch.tensor(self.song)).to(device)
        self.n = len(self.song)
        self.possible = torch.zeros(self.n, device=device).index_add(0, self.of, self.right.float()) > 0

    def loss(self, score, weight=None):
        top = torch.full((self.n,), -1e9, device=device).scatter_reduce(0, self.of, score, 'amax')
        e = torch.exp(score - top.detach()[self.of])
        whole = torch.zeros(self.n, device=device).index_add(0, self.of, e)
        right = torch.zeros(self.n, device=device).index_add(0, self.of, e * self.right)
        each = -torch.log(right / whole + 1e-6)[self.possible]
        w = weight[self.possible] if weight is not None else torch.ones_like(each)
        return (each * w).sum() / w.sum()

    def best(self, score):
        score = score.cpu().numpy()
        at, out_ = 0, []
        for n in self.song:
            out_.append(at + int(np.argmax(score[at:at + n])))
            at += n
        return out_

    def table(self, score):
        """Means of beat F, bar F, metre, tempo of the ways that score highest, a family a row."""
        info = self.info.cpu().numpy()
        rows = np.array([info[i, 2:6] for i in self.best(score)])
        out_ = {}
        for family in sorted(set(self.family)):
            mine = rows[[f == family for f in self.family]]
            out_[family] = [len(mine)] + [round(float(v), 3) for v in mine.mean(0)]
        out_['all'] = [len(rows)] + [round(float(v), 3) for v in rows.mean(0)]
        return out_

    def wrong(self, score):
        info = self.info.cpu().numpy()
        p = self.shares(score)
        return [f'{f}/{n} heard {info[i, 0]:.0f}/{info[i, 1]:.0f} beat {info[i, 2]:.2f} bar {info[i, 3]:.2f} metre {info[i, 4]:.0f} tempo {info[i, 5]:.0f} said {p[i]:.2f}'
                for f, n, i in zip(self.family, self.name, self.best(score)) if info[i, 3] < RIGHT or info[i, 4] == 0]

    def shares(self, score):
        top = torch.full((self.n,), -1e9, device=device).scatter_reduce(0, self.of, score, 'amax')
        e = torch.exp(score - top[self.of])
        return (e / torch.zeros(self.n, device=device).index_add(0, self.of, e)[self.of]).cpu().numpy()


def start(used, scratch=False):
    old = json.load(open(before))
    units = len(old['out'])
    torch.manual_seed(3)
    rows = torch.stack([torch.tensor(old['weights'][n]) if n in old['weights'] and not scratch else torch.cat([torch.zeros(1), .03 * torch.randn(units)]) for n in names]).float()
    rows = rows * torch.tensor([1.0 if n in used else 0.0 for n in names])[:, None]
    return [p.clone().to(device).requires_grad_() for p in (rows, torch.tensor(old['bias']).float(), torch.tensor(old['out']).float())]


def weigh(p, x):
    rows, bias, outs = p
    return x @ rows[:, 0] + torch.tanh(x @ rows[:, 1:] + bias) @ outs


def fit(train, stop, used, noise, pull, rate, until):
    p = start(used, True)
    first = [q.detach().clone() for q in p]
    mask = torch.tensor([1.0 if n in used else 0.0 for n in names], device=device)
    spread = train.x.std(0)
    opt = torch.optim.Adam(p, lr=rate)
    weight = torch.tensor([1.5 if f in ('styles', 'human') else 1.0 for f in train.family], device=device)
    with torch.no_grad():
        best, kept, since = stop.loss(weigh(p, stop.x * mask)).item(), [q.detach().clone() for q in p], 0
    begin = best
    for it in range(4000):
        # Each song as a whole is seen or not: half of them a step.
        seen = (torch.rand(train.n, device=device) < .5).float() * weight
        x = (train.x + noise * spread * torch.randn_like(train.x)) * mask
        loss = train.loss(weigh(p, x), seen) + pull * sum(((q - f) ** 2).sum() for q, f in zip(p, first))
        opt.zero_grad()
        loss.backward()
        p[0].grad *= mask[:, None]
        opt.step()
        if it % 20 == 19:
            with torch.no_grad():
                now = stop.loss(weigh(p, stop.x * mask)).item()
            if now < best - 1e-4:
                best, kept, since = now, [q.detach().clone() for q in p], 0
            else:
                since += 1
            if since > 25 or time.time() > until:
                break
    print(f'noise {noise} pull {pull} rate {rate} steps {it} loss {begin:.3f} -> {best:.3f}', flush=True)
    return best, kept, mask


def written(path, fitted):
    """As the product reads it, and one answer to hold its own computing against: evidence n of the sorted names is sin(n)."""
    row = lambda v: '[' + ', '.join(f'{x:.4g}' for x in v) + ']'
    key = lambda n: n if n.isidentifier() else f"'{n}'"
    lines = ['// biome-ignore-all lint/suspicious/noApproximativeNumericConstant: fitted numbers, not constants',
             '/** Fitted by tests/ear/fit.py to songs of families that its README names: do not edit by hand. Not universal truths: real songs would move them. */',
             '/** For each piece of evidence: how much it counts straight through, then in each unit. */', '// biome-ignore format: a table',
             'export const WEIGHTS: Record<string, readonly number[]> = {']
    lines += [f'  {key(n)}: {row(w)},' for n, w in fitted['weights'].items()]
    lines += ['};', '/** What each unit begins with. */', '// biome-ignore format: a table', f'export const BIAS: readonly number[] = {row(fitted["bias"])};',
              '/** How much each unit counts. */', '// biome-ignore format: a table', f'export const OUT: readonly number[] = {row(fitted["out"])};']
    with open(path, 'w') as f:
        f.write('\n'.join(lines) + '\n')
    rows = np.array([fitted['weights'][n] for n in sorted(fitted['weights'])])
    x = np.sin(np.arange(len(rows)))
    score = x @ rows[:, 0] + np.tanh(x @ rows[:, 1:] + np.array(fitted['bias'])) @ np.array(fitted['out'])
    print('golden', round(float(score), 4))


def told(share, right):
    """Platt's stretch and lowering of log odds, by Newton's method."""
    z = np.log(np.clip(share, 1e-6, 1 - 1e-6) / (1 - np.clip(share, 1e-6, 1 - 1e-6)))
    w = np.array([1.0, 0.0])
    X = np.stack([z, np.ones_like(z)], 1)
    for _ in range(30):
        q = 1 / (1 + np.exp(-X @ w))
        w -= np.linalg.solve((X.T * (q * (1 - q))) @ X + 1e-2 * np.eye(2), X.T @ (q - right) + 1e-2 * (w - [1, 0]))
    return [round(float(v), 3) for v in w]


def sureness(side, score):
    """For the way that scores highest of each song: the share of all ways of its metre, and whether that is right, (songs, 2)."""
    p, info, bests = side.shares(score), side.info.cpu().numpy(), side.best(score)
    out_ = []
    for best, end, n in zip(bests, np.cumsum(side.song), side.song):
        mine = slice(end - n, end)
        same = (info[mine, 0] == info[best, 0]) & (info[mine, 1] == info[best, 1])
        out_.append((p[mine][same].sum(), info[best, 4]))
    return np.array(out_, float)


def reliability(share, right, stretch=1.0, lower=0.0):
    """[(told, right, songs)] by tenths of what was told, and the mean difference, weighed by songs (error of calibration)."""
    z = np.log(np.clip(share, 1e-9, 1 - 1e-9) / (1 - np.clip(share, 1e-9, 1 - 1e-9)))
    told_ = 1 / (1 + np.exp(lower - stretch * z))
    rows = []
    for k in range(10):
        mine = (told_ >= k / 10) & (told_ < (k + 1) / 10 + (k == 9))
        if mine.any():
            rows.append((round(float(told_[mine].mean()), 3), round(float(right[mine].mean()), 3), int(mine.sum())))
    return rows, round(sum(abs(t - r) * n for t, r, n in rows) / max(1, sum(n for _, _, n in rows)), 4)


def reported(p, mask, stop, held):
    with torch.no_grad():
        at_stop, at_held = weigh(p, stop.x * mask), weigh(p, held.x * mask)
    print('stop', json.dumps(stop.table(at_stop)), flush=True)
    print('held', json.dumps(held.table(at_held)), flush=True)
    return at_stop, at_held


def explained(stop, held, at_stop, at_held):
    """Each song that is heard wrongly, and how far what is told of the metre's sureness holds: as it is, and sobered as the side that stops the fit asks."""
    print('\n'.join(held.wrong(at_held)), flush=True)
    seen, unseen = sureness(stop, at_stop), sureness(held, at_held)
    stretch, raise_ = told(*seen.T)
    print('metre: stretch and lowering by the side that stops', stretch, -raise_, flush=True)
    for what in ((1.0, 0.0), SOBERED, (stretch, -raise_)):
        print('metre', what, 'stop', reliability(*seen.T, *what)[1], 'held', *reliability(*unseen.T, *what), flush=True)


def main():
    began = time.time()
    paths = sorted(glob.glob(f'{folder}/*.ev'))
    stem = lambda p: re.sub(r'[^a-z]', '', os.path.basename(p).split('~')[2].lower())
    fits = [p for p in paths if os.path.basename(p).startswith('fit~')]
    held = [p for p in paths if os.path.basename(p).startswith('held~')]
    stops = [p for p in fits if zlib.crc32(stem(p).encode()) % 4 == 0] or fits[:2] or held
    stop = Side(stops)
    held = Side(held) if held else stop
    if not out:
        score = reported(start(set(names)), torch.ones(N, device=device), stop, held)
        explained(stop, held, *score)
        return
    train = Side([p for p in fits if p not in set(stops)])
    print('songs', train.n, stop.n, held.n, 'that can be heard rightly', [round(s.possible.float().mean().item(), 3) for s in (train, stop, held)], flush=True)
    print('before', flush=True)
    reported([q.detach() for q in start(set(names))], torch.ones(N, device=device), stop, held)
    net = {n for n in names if n.startswith('net')}
    for i, (what, used) in enumerate([('both', set(names)), ('tracking', set(names) - net), ('net', net | ALONE)]):
        tries = [(.3, 0, 6e-3), (.8, 3e-5, 6e-3), (.8, 3e-4, 6e-3), (1, 1e-4, 6e-3), (1, 3e-5, 3e-3), (1.3, 1e-4, 6e-3), (1.7, 3e-5, 6e-3)] if what != 'net' else [(.6, 0, 1e-2)]
        until = began + seconds * (i + 1.6) / 4
        found = [fit(train, stop, used, *t, until) for t in tries]
        loss, kept, mask = min(found, key=lambda f: f[0])
        print(what, 'loss', round(loss, 4), flush=True)
        score = reported(kept, mask, stop, held)
        if what == 'both':
            explained(stop, held, *score)
            rows, bias, outs = (q.cpu().numpy() for q in kept)
            json.dump(dict(weights={n: [float(f'{v:.4g}') for v in rows[i]] for i, n in enumerate(names)}, bias=[float(f'{v:.4g}') for v in bias],
                           out=[float(f'{v:.4g}') for v in outs]), open(out, 'w'))
    print('took', round(time.time() - began))


if folder:
    main()
else:
    written(out, json.load(open(before)))
