"""The net: spectra of two windows to what a dancer counts. `lib/core/song/net/run.ts` computes the same."""
import torch
import torch.nn as nn
import torch.nn.functional as F

BANDS, TONES = 60, 48
METRES = [(2, 2), (3, 2), (4, 2), (2, 3), (3, 3), (4, 3)]
"""Of each step: two beats and two bar starts (its first and its second half), a section's start, a beat in three parts."""
HEADS = 6


class Net(nn.Module):
    """
    Dilated convolutions with gates and skips (van den Oord et al. 2016; of beats Davies and Boeck 2019) over 25 steps a second, two frames
    of spectrum a step. Rectified throughout; a gate is a product with a logistic function.
    """

    def __init__(self, channels=40, layers=8, kernel=5):
        super().__init__()
        self.channels, self.kernel = channels, kernel
        first, second = channels // 4, 3 * channels // 8
        self.level = nn.BatchNorm1d(BANDS)
        self.tone_level = nn.BatchNorm1d(TONES)
        self.band1 = nn.Conv2d(1, first, 3, padding=1)
        self.band2 = nn.Conv2d(first, second, (1, 5))
        self.join = nn.Conv1d(4 * second, channels, 4, stride=2, padding=1)
        self.tone1 = nn.Conv2d(1, 8, (5, 3), padding=(2, 1))
        self.tone2 = nn.Conv1d(96, 24, 1)
        self.mix = nn.Conv1d(channels + 24, channels, 1)
        self.wide = nn.ModuleList(nn.Conv1d(channels, 2 * channels, kernel, dilation=2 ** i, padding=(kernel // 2) * 2 ** i) for i in range(layers))
        self.out = nn.ModuleList(nn.Conv1d(channels, channels, 1) for _ in range(layers))
        self.head = nn.Conv1d(channels, HEADS, 1)
        self.metre = nn.Linear(channels, len(METRES))
        self.drop = nn.Dropout(.1)

    def forward(self, x, z):
        """x: batch, frames, BANDS; z: batch, steps, TONES. Logits (batch, HEADS, steps) and (batch, metres)."""
        x = self.level(x.transpose(1, 2)).transpose(1, 2).unsqueeze(1)
        x = F.max_pool2d(F.relu(self.band1(x)), (1, 3))
        x = F.max_pool2d(F.relu(self.band2(x)), (1, 4))
        x = F.relu(self.join(x.permute(0, 1, 3, 2).flatten(1, 2)))
        z = self.tone_level(z.transpose(1, 2)).transpose(1, 2).unsqueeze(1)
        z = F.max_pool2d(F.relu(self.tone1(z)), (1, 4))
        z = F.relu(self.tone2(z.permute(0, 1, 3, 2).flatten(1, 2)))
        x = self.drop(F.relu(self.mix(torch.cat([x, z], 1))))
        skip = 0
        for wide, out in zip(self.wide, self.out):
            a, b = wide(x).chunk(2, 1)
            h = out(self.drop(F.relu(a) * torch.sigmoid(b)))
            skip = skip + h
            x = x + h
        skip = F.relu(skip)
        return self.head(skip), self.metre(skip.mean(2))
