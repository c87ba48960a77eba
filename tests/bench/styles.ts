import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { dice } from '../kit/synth.ts';
import { retimed } from './retimed.ts';

/**
 * `npm run bench:styles -- FOLDER [--free] [--font FILE] [--seed N]`: writes songs over the accompaniment styles of Debian's `mma` (by
 * others than whoever wrote this), rendered by `fluidsynth`, with NAME.beats and NAME.lab beside them: the chords and the form are
 * this program's own. `--free`: played freely, by a tempo that breathes within each phrase (slower at its end, as Todd 1985
 * describes of performances), a ritardando at the end, and every other eighth bar's last beat held for 1.6 to 3 beats. Never part of the tests.
 */
const [folder, ...options] = process.argv.slice(2);
if (folder === undefined) {
  process.stderr.write('use: npm run bench:styles -- FOLDER [--free] [--font FILE] [--seed N]\n');
  process.exit(2);
}
const optionOf = (name: string): string | undefined =>
  options.includes(name) ? options[options.indexOf(name) + 1] : undefined;
const font = optionOf('--font') ?? '/usr/share/sounds/sf2/FluidR3_GM.sf2';
const seed = Number(optionOf('--seed') ?? 1);
const free = options.includes('--free');

/** Groove, beats a bar, parts of a beat, beats a minute as such music is usually played (from memory). */
// biome-ignore format: a table
const STYLES: [string, 2 | 3 | 4, 2 | 3, number][] = [
  ['Waltz', 3, 2, 90], ['CountryWaltz', 3, 2, 104], ['FrenchWaltz', 3, 2, 150], ['FastWaltz', 3, 2, 170],
  ['VieneseWaltz', 3, 2, 176], ['JazzWaltz', 3, 2, 130], ['BroadwayWaltz', 3, 2, 110], ['RockWaltz', 3, 2, 100],
  ['LatinWaltz', 3, 2, 120], ['ModernJazzWaltz', 3, 2, 140], ['ArpeggioWaltz', 3, 2, 96], ['FastJazzWaltz', 3, 2, 180],
  ['Ballad128', 4, 3, 60], ['Blues128', 4, 3, 66], ['Rock128', 4, 3, 72], ['68March', 2, 3, 104],
  ['Ballad', 4, 2, 72], ['PopBallad', 4, 2, 76], ['FolkBallad', 4, 2, 84], ['RockBallad', 4, 2, 70], ['GuitarBallad', 4, 2, 80],
  ['PianoBallad', 4, 2, 68], ['StringBallad', 4, 2, 66], ['Foxtrot', 4, 2, 122], ['QuickStep', 4, 2, 200], ['Swing', 4, 2, 140],
  ['SlowJazz', 4, 2, 74], ['BigBand', 4, 2, 150], ['EasySwing', 4, 2, 120], ['BossaNova', 4, 2, 130], ['Rhumba', 4, 2, 108],
  ['Beguine', 4, 2, 112], ['Bolero', 4, 2, 96], ['SlowBolero', 4, 2, 84], ['ChaCha', 4, 2, 122], ['Mambo', 4, 2, 190],
  ['Samba', 4, 2, 104], ['Tango', 4, 2, 126], ['LightTango', 4, 2, 120], ['Jive', 4, 2, 168], ['Twist', 4, 2, 156],
  ['50sRock', 4, 2, 130], ['8Beat', 4, 2, 110], ['SoftRock', 4, 2, 96], ['FolkRock', 4, 2, 112], ['CountrySwing', 4, 2, 128],
  ['SlowCountry', 4, 2, 80], ['Polka', 4, 2, 120], ['Merengue', 4, 2, 124], ['Salsa', 4, 2, 180], ['Spiritual', 4, 2, 100],
  ['Hymn', 4, 2, 84], ['SoftShoe', 4, 2, 108], ['Lullaby', 4, 2, 76],
];
/** For music that is played freely: what has few drums. */
const FREE =
  /Waltz$|Ballad$|Hymn|Lullaby|Spiritual|Bolero|Folk|Arpeggio|SlowJazz|SlowCountry|Ballad128|Beguine|Rhumba|Foxtrot/;

/** Four-bar chord rows, of common chord changes. */
const ROWS = [
  'C Am F G7',
  'C F C G7',
  'Am F C G',
  'F G Em Am',
  'Dm G7 C Am',
  'F C G7 C',
  'C C7 F Fm',
  'Am Dm G7 C',
];

const random = dice(seed);
const pick = <T>(of: readonly T[]): T => of[Math.floor(random() * of.length)]!;
mkdirSync(folder, { recursive: true });

for (const [groove, beats, parts, usual] of STYLES) {
  if (free && !FREE.test(groove)) continue;
  const name = `${groove.replace(/\W/g, '')}_${beats === 3 ? '34' : parts === 3 ? (beats === 2 ? '68' : '128') : '44'}_${free ? 'free' : 'even'}${seed}`;
  const tempo = Math.round(usual * (0.92 + 0.16 * random()));
  const form = ['V', 'C', 'V', 'C', 'B', 'C'];
  const rows = new Map(['V', 'C', 'B'].map((part) => [part, [pick(ROWS), pick(ROWS)]]));
  const perPart = (usual / beats > 35 ? 4 : 2) * 4;
  const lines = [`Tempo ${tempo}`, `Groove ${groove}`];
  const written: string[] = [];
  const sections: string[] = [];
  const bars = form.length * perPart;
  const times = played(bars * beats, tempo, beats);
  for (const [n, part] of form.entries()) {
    for (let bar = 0; bar < perPart; bar++) {
      const number = n * perPart + bar;
      lines.push(`${number + 1} ${rows.get(part)![Math.floor(bar / 4) % 2]!.split(' ')[bar % 4]}`);
      for (let beat = 0; beat < beats; beat++)
        written.push(`${times[number * beats + beat]!.toFixed(4)}\t${beat + 1}`);
    }
    const label = part === 'V' ? 'verse' : part === 'C' ? 'chorus' : 'bridge';
    const [from, to] = [times[n * perPart * beats]!, times[(n + 1) * perPart * beats]!];
    sections.push(`${from.toFixed(4)}\t${to.toFixed(4)}\t${label}`);
  }
  const beside = (ending: string) => join(folder, `${name}.${ending}`);
  writeFileSync(beside('mma'), `${lines.join('\n')}\n`);
  try {
    execFileSync('mma', ['-w', '-f', beside('mid'), beside('mma')], { stdio: 'pipe', timeout: 60_000 });
    // In mma's 6/8 march and its 12/8 styles a quarter note is a beat, too.
    writeFileSync(
      beside('mid'),
      retimed(readFileSync(beside('mid')), (quarters) => placeAt(times, quarters)),
    );
    execFileSync(
      'fluidsynth',
      ['-niq', '-g', '0.5', '-r', '44100', '-F', beside('wav'), font, beside('mid')],
      {
        stdio: 'pipe',
        timeout: 120_000,
      },
    );
  } catch (error) {
    process.stderr.write(
      `${name}: ${String((error as { stdout?: Buffer }).stdout ?? error).slice(0, 200)}\n`,
    );
    rmSync(beside('wav'), { force: true });
    continue;
  }
  writeFileSync(beside('beats'), `${written.join('\n')}\n`);
  writeFileSync(beside('lab'), `${sections.join('\n')}\n`);
  process.stdout.write(`${name}\t${times.at(-1)!.toFixed(1)} s\n`);
}

/** When each beat sounds, and the end of the last. Seconds. */
function played(count: number, tempo: number, perBar: number): number[] {
  const times = [0];
  const depth = free ? 0.08 + 0.1 * random() : 0;
  const phrase = 4 * perBar;
  for (let i = 0; i < count; i++) {
    const place = (i % phrase) / phrase;
    // Fastest in the middle of a phrase, slower to its end, and at last slower still.
    const breath = depth * (Math.sin(Math.PI * place) - 0.6);
    const end = free ? 0.35 * Math.max(0, 1 - (count - i) / (2 * perBar)) : 0;
    const holds = free && i % (2 * phrase) === 2 * phrase - 1 && i < count - 1 && random() < 0.5;
    const held = holds ? 1.6 + 1.4 * random() : 1;
    times.push(times[i]! + (60 / tempo) * (held / (1 + breath - end)));
  }
  return times;
}

/** Seconds of a place between beats. */
function placeAt(times: readonly number[], beat: number): number {
  const i = Math.min(times.length - 2, Math.floor(beat));
  return times[i]! + (beat - i) * (times[i + 1]! - times[i]!);
}
