import { listen } from '../../lib/core/song/listen.ts';
import { songOf } from '../../server/command/files.ts';

/**
 * `npm run bench:memory -- SONG`: what listening to five minutes in stereo takes. The song is laid end to end to that length first; then what
 * the process holds at most is read from the operating system, which never forgets the highest.
 */
const [path] = process.argv.slice(2);
if (path === undefined) {
  process.stderr.write('use: npm run bench:memory -- SONG\n');
  process.exit(2);
}
const SECONDS = 300;
const MB = 1e6;
const peak = (): number => (process.resourceUsage().maxRSS * 1024) / MB;

const code = peak();
const samples = await fiveMinutes(path);
const before = peak();
const result = listen(samples);
const most = peak();
if (!result.ok) throw new Error(result.problem.sentence);
const held = (samples.channels.length * samples.channels[0]!.length * 4) / MB;
process.stdout.write(`five minutes, ${samples.channels.length} channels at ${samples.rate} Hz
the program itself          ${code.toFixed(0)} MB
the samples                 ${held.toFixed(0)} MB
highest before listening    ${before.toFixed(0)} MB (decoding included)
highest in all              ${most.toFixed(0)} MB
beyond program and samples  ${(most - code - held).toFixed(0)} MB
`);

async function fiveMinutes(song: string) {
  const { samples } = await songOf(song);
  const length = SECONDS * samples.rate;
  const pair = [samples.channels[0]!, samples.channels[1] ?? samples.channels[0]!];
  return {
    rate: samples.rate,
    channels: pair.map((channel) => {
      const long = new Float32Array(length);
      for (let at = 0; at < length; at += channel.length) long.set(channel.subarray(0, length - at), at);
      return long;
    }),
  };
}
