import { spawnSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { run } from '../../server/command/run.ts';
import { newFolder, song, writeWav } from './songs.ts';

/** Wrong use and wrong input end with 2, nothing on standard output, and one line that says what to do. */
let folder: Awaited<ReturnType<typeof newFolder>>;
beforeAll(async () => {
  folder = await newFolder();
  await writeWav(folder.path('song.wav'), song.samples);
  await writeFile(folder.path('text.mp3'), 'These are words, and no music at all.');
  await writeFile(folder.path('edit.json'), '{ "cuts": [{ "from": 20, "to": 10 }] }');
  await writeFile(folder.path('far.json'), '{ "cuts": [{ "from": 20, "to": 900 }] }');
  await writeFile(folder.path('half.json'), '{ "cuts": [');
  await writeFile(folder.path('odd.beats'), 'one two three\n');
  await writeFile(folder.path('no-board.json'), '{ "plan": { "date": "soon" } }');
  await writeFile(folder.path('empty.json'), '{}');
  await writeFile(folder.path('empty.wav'), '');
});
afterAll(() => folder.remove());

const wrongs: [string, string[], RegExp][] = [
  ['no verb', [], /say one of listen, shape/],
  ['an unknown verb', ['whistle'], /larkstep whistle: say one of/],
  ['a verb that every object has', ['toString'], /say one of/],
  ['no file', ['listen'], /use: larkstep listen AUDIO/],
  ['too many files', ['listen', 'a.wav', 'b.wav'], /use: larkstep listen/],
  ['an unknown option', ['listen', 'song.wav', '--loud'], /larkstep listen: .*--loud/],
  ['a file that is not there', ['listen', 'nothing.wav'], /nothing\.wav: there is no such file/],
  ['a file that is no music', ['listen', 'text.mp3'], /text\.mp3: .+/],
  ['a folder in place of a file', ['listen', '.'], /it is a folder/],
  ['standard input by a dash', ['listen', '-'], /^-: a file is needed/],
  ['a name that is empty', ['listen', ''], /name of a file is empty/],
  ['an empty recording', ['listen', 'empty.wav'], /empty\.wav: This file is empty/],
  ['an empty board', ['check', 'empty.wav'], /empty\.wav: this file is empty/],
  ['a file that never ends', ['listen', '/dev/zero'], /larger than 100 MB/],
  ['a folder in place of a backup', ['restore', '.'], /it is a folder/],
  ['a backup that is not there', ['restore', 'nothing.tar'], /there is no such file/],
  ['a file in place of a folder', ['score', 'song.wav'], /there is no such folder/],
  [
    'a target that is no clock time',
    ['shape', 'song.wav', '--target', '3:05:xx'],
    /--target: "3:05:xx" is no/,
  ],
  ['a target of one digit of seconds', ['shape', 'song.wav', '--target', '3:5'], /"3:5" is no length/],
  ['a target of hours', ['shape', 'song.wav', '--target', '1'.repeat(400)], /longer than an hour/],
  ['less than nothing', ['shape', 'song.wav', '--within', '-3'], /--within: "-3" is no length/],
  ['a length that is empty', ['shape', 'song.wav', '--within='], /--within: "" is no length/],
  ['days in another notation', ['links', 'board', '--role', 'dj', '--days', '0x10'], /--days/],
  ['days without end', ['links', 'board', '--role', 'dj', '--days', '1000000000'], /--days/],
  [
    'an option given twice',
    ['shape', 'song.wav', '--target', '30', '--target', '40'],
    /--target is given twice/,
  ],
  ['a target that is no length', ['shape', 'song.wav', '--target', 'long'], /"long" is no length/],
  ['beats that are none', ['shape', 'song.wav', '--beats', 'odd.beats'], /Line 1 of the beats file/],
  ['no edit', ['render', 'song.wav', '--out', 'x.wav'], /--edit EDIT\.json/],
  ['no place to write', ['render', 'song.wav', '--edit', 'edit.json'], /--out FILE/],
  [
    'another kind of file',
    ['render', 'song.wav', '--edit', 'edit.json', '--out', 'x.ogg'],
    /must end in \.wav or \.mp3/,
  ],
  [
    'a cut that ends before it begins',
    ['render', 'song.wav', '--edit', 'edit.json', '--out', 'x.wav'],
    /edit\.json: .*cuts\.0/,
  ],
  [
    'an edit of a longer song',
    ['render', 'song.wav', '--edit', 'far.json', '--out', 'x.wav'],
    /reaches 15:00/,
  ],
  ['no JSON', ['render', 'song.wav', '--edit', 'half.json', '--out', 'x.wav'], /this is no JSON/],
  ['one file to compare', ['compare', 'song.wav'], /use: larkstep compare RECORDING COPY/],
  ['a board with a wrong date', ['check', 'no-board.json'], /not as a board has it: plan\.date: /],
  ['a board without a plan', ['check', 'empty.json'], /without its plan/],
  ['a day that is none', ['check', 'empty.json', '--today', 'May'], /--today/],
  ['a day that no calendar has', ['check', 'empty.json', '--today', '2027-02-30'], /--today/],
  ['no one to hand to', ['hand', 'empty.json', '--out', 'x.pdf'], /--to/],
  [
    'an ending that every object has',
    ['hand', 'empty.json', '--to', 'dj', '--out', 'x.constructor'],
    /must end in \.pdf, /,
  ],
  ['a folder without songs', ['score', '.'], /NAME\.beats and NAME\.lab/],
  ['a link for nobody', ['links', 'board', '--role', 'uncle'], /--role/],
];

it.each(wrongs)('%s', async (_, args, says) => {
  const here = args.map((arg) =>
    /^[\w-]+\.(wav|mp3|json|beats|ogg|pdf|tar)$/.test(arg) || arg === '.' ? folder.path(arg) : arg,
  );
  const { code, out, line } = await run(here);
  expect(line).toMatch(says);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(line).not.toContain('\n');
});

it('as a process: exit code 2, standard output empty, one line on standard error', () => {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['--import', 'tsx', 'server/command/main.ts', 'whistle'],
    {
      encoding: 'utf8',
    },
  );
  expect(status).toBe(2);
  expect(stdout).toBe('');
  expect(stderr.trimEnd().split('\n')).toHaveLength(1);
});
