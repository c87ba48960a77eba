import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { parseBeats } from '../../lib/core/song/annotation.ts';
import { framesFrom, heardSignal } from '../../lib/core/song/frames.ts';
import { EVIDENCE } from '../../lib/core/song/hypothesis.ts';
import { hypothesesOf, pulsesOf } from '../../lib/core/song/metre.ts';
import { beatF, tempoOf, tempoRight } from '../../lib/core/song/metrics.ts';
import { netCurves } from '../../lib/core/song/net/curves.ts';
import { sceneOf } from '../../lib/core/song/pulseView.ts';

/**
 * `node --import tsx tests/ear/evidence.ts OUT PART PARTS FOLDER...`: every way in which each annotated song may be heard, what is weighed of it, and how right it
 * would be; for `fit.py`, which fits the weights. Songs are split among PARTS processes, of which this is PART. SIDE~FAMILY~NAME.ev (the song's two folders and its name) holds rows of
 * 32-bit floats: the evidence in the order of EVIDENCE, then beats a bar, parts of a beat, beat F, bar F, metre right, tempo right.
 * Songs are 16-bit WAV of one channel.
 */
const [out = '', part = '0', parts = '1', ...folders] = process.argv.slice(2);

const paths = folders.flatMap((folder) =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.wav'))
    .sort()
    .map((name) => join(folder, name)),
);
paths.forEach((path, i) => {
  if (i % Number(parts) === Number(part)) weighed(path);
});
if (part === '0') writeFileSync(join(out, 'names.json'), JSON.stringify(EVIDENCE));

function weighed(path: string): void {
  const bytes = readFileSync(path);
  const rate = bytes.readUInt32LE(24);
  const stereo = bytes.readUInt16LE(22);
  const data = new Int16Array(
    bytes.buffer.slice(bytes.byteOffset + 44, bytes.byteOffset + 44 + 2 * ((bytes.length - 44) >> 1)),
  );
  const count = Math.floor(data.length / stereo);
  const channels = Array.from({ length: stereo }, (_, c) =>
    Float32Array.from({ length: count }, (_, i) => data[i * stereo + c]! / 32768),
  );
  const read = parseBeats(readFileSync(path.replace(/wav$/, 'beats'), 'utf8'));
  if (!read.ok) return;
  const truth = JSON.parse(readFileSync(path.replace(/wav$/, 'truth.json'), 'utf8'));
  const { beats, positions } = read.value;
  const bars = beats.filter((_, i) => positions[i] === 1);
  const { sound, ...heard } = heardSignal({ rate, channels });
  if (!sound) return;
  const frames = framesFrom(heard, () => {});
  const scene = sceneOf(frames, netCurves(frames.net));
  const pulses = pulsesOf(scene);
  const fit = pulses.map((pulse) => beatF(beats, pulse.beats));
  const rows = hypothesesOf(scene, pulses).map((h) => {
    const chain = pulses[h.pulse]!.beats;
    const opens = chain.filter((_, i) => i % h.beatsPerBar === h.firstBar);
    const right = h.beatsPerBar === truth.beats_per_bar && (h.subdivision === 3) === truth.compound;
    const barFit = fit[h.pulse]! < 0.3 ? 0 : beatF(bars, opens);
    const { tempo1 } = tempoRight(tempoOf(beats), tempoOf(chain));
    return [
      ...h.evidence,
      h.beatsPerBar,
      h.subdivision,
      fit[h.pulse]!,
      barFit,
      Number(right),
      Number(tempo1),
    ];
  });
  if (rows.length === 0) return;
  const [family, side] = [basename(join(path, '..')), basename(join(path, '../..'))];
  writeFileSync(join(out, `${side}~${family}~${basename(path, '.wav')}.ev`), Float32Array.from(rows.flat()));
}
