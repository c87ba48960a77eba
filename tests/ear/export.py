"""
export.py STATE.pt WEIGHTS.ts GOLDEN.json: a trained net as the product reads it (half precision, in the order and layout of `lib/core/song/net/run.ts`), and
what the framework answers to a small input, to hold the product's own computing against.
"""
import base64
import json
import sys

import numpy as np
import torch

from net import BANDS, KERNEL, TONES, Net

kept = torch.load(sys.argv[1], map_location='cpu')
channels, dilations, every = kept['shape']
net = Net(channels, dilations, every)
net.load_state_dict(kept['mean'])
net.eval()
first, second = channels // 4, 3 * channels // 8


def scaled(norm):
    scale = norm.weight / torch.sqrt(norm.running_var + norm.eps)
    return [scale, norm.bias - norm.running_mean * scale]


def taps(weight):
    """Of a convolution over time, (out, in, taps): (taps x in, out)."""
    return weight.permute(2, 1, 0).reshape(-1, weight.shape[0])


def parts(n):
    out = [*scaled(n.level), *scaled(n.tone_level)]
    out += [n.band1.weight.reshape(first, 9).T, n.band1.bias]
    out += [n.band2.weight[:, :, 0].permute(2, 1, 0).reshape(5 * first, second), n.band2.bias]
    # The framework counts channel by channel, we place by place.
    join = n.join.weight.reshape(channels, second, 4, 4).permute(3, 2, 1, 0).reshape(-1, channels)
    out += [join, n.join.bias, n.tone1.weight.reshape(8, 15).T, n.tone1.bias]
    out += [n.tone2.weight[:, :, 0].reshape(24, 8, 12).permute(2, 1, 0).reshape(96, 24), n.tone2.bias, taps(n.mix.weight), n.mix.bias]
    whole = iter(n.whole)
    for i, (wide, o) in enumerate(zip(n.wide, n.out)):
        out += [taps(wide.weight), wide.bias, taps(o.weight), o.bias]
        if n.hears_all(i):
            it = next(whole)
            out += [it.weight.T, it.bias]
    return out + [taps(n.head.weight), n.head.bias, n.metre.weight.T, n.metre.bias]


with torch.no_grad():
    # What is written is what is tested: weights of half precision.
    for p in [*net.parameters(), net.level.running_mean, net.level.running_var, net.tone_level.running_mean, net.tone_level.running_var]:
        p.copy_(p.half().float())
    flat = np.concatenate([p.reshape(-1).numpy() for p in parts(net)]).astype('<f2')
    text = base64.b64encode(flat.tobytes()).decode()
    with open(sys.argv[2], 'w') as f:
        f.write('/** Made by tests/ear/export.py: do not edit by hand. Half-precision numbers in the order of run.ts, base64. */\n')
        f.write(f'export const NET = {{\n  channels: {channels},\n  dilations: {dilations},\n  every: {every},\n  taps: {KERNEL},\n  numbers:\n    \'{text}\',\n}};\n')
    steps = 60
    k = np.arange(2 * steps * BANDS)
    x = (2 + 2 * np.sin(k * .37) * np.sin(k * .0113)).astype(np.float32).reshape(1, 2 * steps, BANDS)
    k = np.arange(steps * TONES)
    z = (2 + 2 * np.sin(k * .53) * np.cos(k * .0171)).astype(np.float32).reshape(1, steps, TONES)
    heads, metre = net(torch.from_numpy(x), torch.from_numpy(z))
    with open(sys.argv[3], 'w') as f:
        json.dump(dict(steps=steps, heads=[round(float(v), 5) for v in heads[0].T.reshape(-1)], metre=[round(float(v), 5) for v in metre[0]]), f)
print(len(flat), 'numbers', len(text), 'letters')
