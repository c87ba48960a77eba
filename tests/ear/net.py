"""The net: spectra of two windows to what a dancer counts. `lib/core/song/net/run.ts` computes the same."""
import torch
import torch.nn as nn
import torch.nn.functional as F

BANDS, TONES = 60, 48
METRES = [(2, 2), (3, 2), (4, 2), (2, 3), (3, 3), (4, 3)]
"""Of each step: two beats and two bar starts (its first and its second half), a section's start, a beat in three parts."""
HEADS = 6


"""How far apart the five steps are that each layer looks at; after each EVERY layers all steps hear what the whole song is like."""
DILATIONS = [1, 2, 4, 8, 16, 32, 64, 128, 4, 32]
EVERY = 4
KERNEL = 5


def over_time(conv, x, dilation=1):
    """`conv` of one stretched kernel as one product of matrices, which graphics processors do faster than dilated convolutions."""
    taps = conv.kernel_size[0]
    reach = taps // 2 * dilation
    padded = F.pad(x, (reach, reach))
    beside = torch.cat([padded[..., k * dilation:k * dilation + x.shape[-1]] for k in range(taps)], 1)
    out = torch.matmul(conv.weight.permute(0, 2, 1).flatten(1), beside)
    return out + conv.bias[:, None].to(out.dtype)


class Net(nn.Module):
    """
    Dilated convolutions with gates and skips (van den Oord et al. 2016; of beats Davies and Boeck 2019) over 25 steps a second, two frames
    of spectrum a step; between blocks of them the mean over all steps is added to each (Hu et al. 2018, there as a gate), so that one metre is heard throughout.
    Rectified throughout; a gate is a product with a logistic function.
    """

    def __init__(self, channels=40, dilations=DILATIONS, every=EVERY):
        super().__init__()
        self.shape = channels, list(dilations), every
        first, second = channels // 4, 3 * channels // 8
        self.level = nn.BatchNorm1d(BANDS)
        self.tone_level = nn.BatchNorm1d(TONES)
        self.band1 = nn.Conv2d(1, first, 3, padding=1)
        self.band2 = nn.Conv2d(first, second, (1, 5))
        self.join = nn.Conv1d(4 * second, channels, 4, stride=2, padding=1)
        self.tone1 = nn.Conv2d(1, 8, (5, 3), padding=(2, 1))
        self.tone2 = nn.Conv1d(96, 24, 1)
        self.mix = nn.Conv1d(channels + 24, channels, 1)
        self.wide = nn.ModuleList(nn.Conv1d(channels, 2 * channels, KERNEL) for _ in dilations)
        self.out = nn.ModuleList(nn.Conv1d(channels, channels, 1) for _ in dilations)
        self.whole = nn.ModuleList(nn.Linear(channels, channels) for i in range(len(dilations)) if self.hears_all(i))
        self.head = nn.Conv1d(channels, HEADS, 1)
        self.metre = nn.Linear(channels, len(METRES))
        self.drop = nn.Dropout(.1)

    def hears_all(self, i):
        """After the i-th layer."""
        _, dilations, every = self.shape
        return (i + 1) % every == 0 and i + 1 < len(dilations)

    def forward(self, x, z, inside=None):
        """
        x: batch, frames, BANDS; z: batch, steps, TONES; inside: batch, steps, 1 where there is music. Logits (batch, HEADS, steps) and (batch, metres).
        """
        inside = torch.ones(z.shape[:2], device=z.device) if inside is None else inside
        share = (inside / inside.sum(1, keepdim=True))[:, None]
        x = self.level(x.transpose(1, 2)).transpose(1, 2).unsqueeze(1)
        x = F.max_pool2d(F.relu(self.band1(x)), (1, 3))
        x = F.max_pool2d(F.relu(self.band2(x)), (1, 4))
        x = F.relu(self.join(x.permute(0, 1, 3, 2).flatten(1, 2)))
        z = self.tone_level(z.transpose(1, 2)).transpose(1, 2).unsqueeze(1)
        z = F.max_pool2d(F.relu(self.tone1(z)), (1, 4))
        z = F.relu(over_time(self.tone2, z.permute(0, 1, 3, 2).flatten(1, 2)))
        x = self.drop(F.relu(over_time(self.mix, torch.cat([x, z], 1))))
        skip, whole = 0, iter(self.whole)
        for i, dilation in enumerate(self.shape[1]):
            a, b = over_time(self.wide[i], x, dilation).chunk(2, 1)
            h = over_time(self.out[i], self.drop(F.relu(a) * torch.sigmoid(b)))
            skip = skip + h
            x = x + h
            if self.hears_all(i):
                x = x + next(whole)((F.relu(skip) * share).sum(2))[..., None]
        skip = F.relu(skip)
        return over_time(self.head, skip), self.metre((skip * share).sum(2))
