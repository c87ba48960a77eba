/** What stands in a file's tag; an empty field is left out. */
export interface Tags {
  title: string;
  artist: string;
  comment: string;
}

/** An ID3v2.3 tag (id3.org, 1999) with its texts as UTF-16. */
export function id3(tags: Tags): Uint8Array {
  const frames = [
    textFrame('TIT2', [1], tags.title),
    textFrame('TPE1', [1], tags.artist),
    // A comment has a language and a short name besides, here an empty one with its own byte-order mark.
    textFrame('COMM', [1, 0x65, 0x6e, 0x67, 0xff, 0xfe, 0, 0], tags.comment),
  ].flat();
  const size = frames.length;
  const head = [0x49, 0x44, 0x33, 3, 0, 0, size >> 21, (size >> 14) & 127, (size >> 7) & 127, size & 127];
  return Uint8Array.from([...head, ...frames]);
}

function textFrame(name: string, before: number[], words: string): number[] {
  if (words === '') return [];
  const text = [...before, 0xff, 0xfe];
  for (let i = 0; i < words.length; i++) text.push(words.charCodeAt(i) & 255, words.charCodeAt(i) >> 8);
  const { length } = text;
  const size = [length >>> 24, (length >> 16) & 255, (length >> 8) & 255, length & 255];
  return [...Array.from(name, (letter) => letter.charCodeAt(0)), ...size, 0, 0, ...text];
}
