"""Teaches the network that says how far marks have moved a surface, and writes its weights for the program.

    pip install -r requirements.txt
    python teach.py PATCHES[,PATCHES...] --minutes 30 [--threads 2] [--from network.pt]

PATCHES are files of `npm run patches`. Writes network.pt, ../src/marks/learned/network-weights.ts and
../../../tests/pipeline/marks/learned/known-answer.json, an answer of this program that the other is held against.
"""
import argparse
import base64
import json
import math
import pathlib
import time

import numpy as np
import torch
import torch.nn.functional as F
from torch import nn

HERE = pathlib.Path(__file__).parent
SIZE = 24
STEP = 3  # mm
BANDS = ((1.3, 0.3), (2.6, 0.8), (4.2, 2.0))  # blur in cells, height in mm: marks/learned/bands.ts
FINE, MIDDLE, COARSE = 16, 32, 48
BATCH = 128
RATE = 3e-3


def layer(inputs, outputs):
    return nn.Sequential(nn.Conv2d(inputs, outputs, 3, padding=1, bias=False), nn.BatchNorm2d(outputs), nn.LeakyReLU(0.1))


class Network(nn.Module):
    def __init__(self):
        super().__init__()
        self.a = nn.Sequential(layer(4 + len(BANDS), FINE), layer(FINE, FINE))
        self.b = nn.Sequential(layer(FINE, MIDDLE), layer(MIDDLE, MIDDLE))
        self.c = nn.Sequential(layer(MIDDLE, COARSE), layer(COARSE, COARSE))
        self.d = layer(COARSE + MIDDLE, MIDDLE)
        self.e = layer(MIDDLE + FINE, FINE)
        self.o = nn.Conv2d(FINE, 1, 3, padding=1)

    def forward(self, x):
        a = self.a(x)
        b = self.b(F.avg_pool2d(a, 2))
        c = self.c(F.avg_pool2d(b, 2))
        d = self.d(torch.cat([F.interpolate(c, scale_factor=2), b], 1))
        e = self.e(torch.cat([F.interpolate(d, scale_factor=2), a], 1))
        return self.o(e)[:, 0]


def blur_matrix(blur):
    reach = int(3 * blur + 0.5)
    kernel = torch.exp(-torch.arange(-reach, reach + 1).float() ** 2 / (2 * blur * blur))
    kernel /= kernel.sum()
    matrix = torch.zeros(SIZE, SIZE)
    for i in range(SIZE):
        for k in range(max(0, i - reach), min(SIZE, i + reach + 1)):
            matrix[i, k] = kernel[k - i + reach]
    return matrix


BLURS = [(blur_matrix(blur), height) for blur, height in BANDS]


def pictures(patches):
    """What the network looks at, and what it shall say, of patches as they lie in the file."""
    t = torch.from_numpy(np.ascontiguousarray(patches)).float()
    covered = (t[:, 0] > -32768).float()
    height, drawn_in = t[:, 0] / 500 * covered, t[:, 1] / 500 * covered
    turned = (t[:, 2] / 10000 - 1) * covered
    bands = []
    for matrix, scale in BLURS:
        share = (matrix @ covered @ matrix.T).clamp_min(0.05)
        left = height
        for _ in range(2):
            left = (left - (matrix @ left @ matrix.T) / share) * covered
        bands.append((left / scale).clamp(-8, 8))
    return torch.stack([height / 5, drawn_in / 5, turned * 2, covered, *bands], 1), t[:, 3] / 5000 * covered


def turned_about(x, y, rng):
    quarter = int(rng.integers(4))
    x, y = torch.rot90(x, quarter, (2, 3)), torch.rot90(y, quarter, (1, 2))
    return (x.flip(3), y.flip(2)) if rng.integers(2) else (x, y)


def teach(network, files, minutes):
    patches = np.concatenate([np.fromfile(file, dtype=np.int16).reshape(-1, 4, SIZE, SIZE) for file in files])
    inputs = np.empty((len(patches), 4 + len(BANDS), SIZE, SIZE), np.float16)
    answers = np.empty((len(patches), SIZE, SIZE), np.float16)
    for i in range(0, len(patches), 1024):
        x, y = pictures(patches[i:i + 1024])
        inputs[i:i + 1024], answers[i:i + 1024] = x.numpy(), y.numpy()
    print(len(patches), 'patches', flush=True)
    off = np.hypot(*(np.mgrid[:SIZE, :SIZE] - (SIZE - 1) / 2)) * STEP
    middle = torch.from_numpy(np.where(off <= 24, 1.0, np.where(off <= 33, 0.4, 0.1))).float()
    network.train()
    optimizer = torch.optim.AdamW(network.parameters(), lr=RATE, weight_decay=1e-3)
    rng = np.random.default_rng(0)
    start, step, missed, whole = time.time(), 0, 0.0, 0.0
    while (gone := (time.time() - start) / 60 / minutes) < 1:
        for group in optimizer.param_groups:
            group['lr'] = RATE * min(1, step / 200 + 0.05) * (0.5 + 0.5 * math.cos(math.pi * gone)) + 1e-5
        chosen = rng.integers(0, len(inputs), BATCH)
        x, y = turned_about(torch.from_numpy(inputs[chosen]).float(), torch.from_numpy(answers[chosen]).float(), rng)
        with torch.autocast('cpu', dtype=torch.bfloat16):
            said = network(x.to(memory_format=torch.channels_last))
        weight = middle * x[:, 3] * (1 + 2 * (y.abs() > 0.2).float())
        loss = (F.smooth_l1_loss(said.float(), y, reduction='none', beta=0.1) * weight).sum() / weight.sum()
        optimizer.zero_grad()
        loss.backward()
        optimizer.step()
        step += 1
        missed += loss.item()
        whole += ((F.smooth_l1_loss(0 * y, y, reduction='none', beta=0.1) * weight).sum() / weight.sum()).item()
        if step % 500 == 0:
            print(f'{step} steps, {gone:.2f} of the time: {missed / whole:.4f} of the loss of saying nothing', flush=True)
            missed = whole = 0.0
    return inputs, answers


def folded(network):
    """Weights and biases with the normalisation in them, in the order of marks/learned/mark-network.ts."""
    out = []
    for convolution, norm, _ in (*network.a, *network.b, *network.c, network.d, network.e):
        gain = (norm.weight / torch.sqrt(norm.running_var + norm.eps)).double()
        weight = convolution.weight.double() * gain[:, None, None, None]
        outputs, inputs = weight.shape[:2]
        out.append(weight.reshape(outputs // 16, 16, inputs, 3, 3).permute(0, 3, 4, 2, 1).reshape(-1))
        out.append(norm.bias.double() - norm.running_mean.double() * gain)
    out.append(network.o.weight.double()[0].permute(1, 2, 0).reshape(-1))
    out.append(network.o.bias.double())
    return torch.cat([part.detach() for part in out]).numpy().astype('<f2')


def write(network, inputs):
    network.eval()
    text = base64.b64encode(folded(network).tobytes()).decode()
    (HERE / '../src/marks/learned/network-weights.ts').write_text(
        '/** What the network was taught, as 16-bit floats in base64; written by packages/pipeline/network/teach.py. */\n'
        f"export const NETWORK_WEIGHTS: string = '{text}';\n")
    shown = torch.from_numpy(inputs[:600]).float()
    with torch.no_grad():
        answers = network(shown)
    # The first that shows a deep mark.
    telling = next(i for i, said in enumerate(answers) if 1.2 < said.abs().max() < 2.5)
    x, said = shown[telling:telling + 1], answers[telling]
    rounded = lambda values, digits: [round(float(v), digits) for v in values.reshape(-1)]
    answer = {
        'height': rounded(x[0, 0] * 5, 4), 'drawnIn': rounded(x[0, 1] * 5, 4), 'turned': rounded(x[0, 2] / 2, 5),
        'covered': rounded(x[0, 3], 0), 'said': rounded(said, 4),
    }
    (HERE / '../../../tests/pipeline/marks/learned/known-answer.json').write_text(json.dumps(answer) + '\n')


if __name__ == '__main__':
    parser = argparse.ArgumentParser()
    parser.add_argument('patches')
    parser.add_argument('--minutes', type=float, required=True)
    parser.add_argument('--threads', type=int, default=1)
    parser.add_argument('--from', dest='start')
    options = parser.parse_args()
    torch.set_num_threads(options.threads)
    torch.manual_seed(1)
    net = Network().to(memory_format=torch.channels_last)
    if options.start is not None:
        net.load_state_dict(torch.load(options.start))
    shown, _ = teach(net, options.patches.split(','), options.minutes)
    torch.save({name: tensor.contiguous() for name, tensor in net.state_dict().items()}, HERE / 'network.pt')
    write(net, shown)
