import { Document, Page, StyleSheet, Text, View } from '@react-pdf/renderer';
import type { ReactNode } from 'react';
import { isLost, LOST, printed, sans, serif } from './fonts.ts';

/** Colours of the printed programme; the paper is the printer's own. */
const ink = '#26221c';
const soft = '#6d6455';
const line = '#d9cfba';
const wine = '#8a2b3a';

const look = StyleSheet.create({
  page: { padding: 48, paddingBottom: 56, fontFamily: sans, fontSize: 10.5, lineHeight: 1.4, color: ink },
  title: { fontFamily: serif, fontSize: 26, lineHeight: 1.2 },
  under: { color: soft, marginBottom: 14 },
  rule: { borderTopWidth: 1.5, borderTopColor: ink, paddingTop: 8, marginTop: 6 },
  heading: { fontWeight: 600, fontSize: 9, letterSpacing: 0.6, marginTop: 14, marginBottom: 4 },
  row: { flexDirection: 'row', borderTopWidth: 0.5, borderTopColor: line, paddingVertical: 5 },
  time: { width: 66, color: soft },
  name: { width: 120, paddingRight: 8, color: soft },
  word: { width: 130, fontFamily: serif, fontStyle: 'italic', fontSize: 13 },
  rest: { flex: 1 },
  figure: { flex: 1, paddingRight: 10 },
  big: { fontFamily: serif, fontSize: 20, lineHeight: 1.2 },
  label: { color: soft, fontSize: 9 },
  caution: { marginTop: 5, color: soft, fontSize: 9 },
  alarm: { color: wine },
  foot: { position: 'absolute', bottom: 26, left: 48, right: 48, color: soft, fontSize: 8 },
});

/** Words of letters that run from the right. */
const FROM_THE_RIGHT =
  /[\p{Script=Hebrew}\p{Script=Arabic}]+(?:[\s\p{Mn}]+[\p{Script=Hebrew}\p{Script=Arabic}]+)*/gu;
/** Left-to-right mark (Unicode Standard Annex 9): a number after such words stays where the English sentence has it. */
const FROM_THE_LEFT = '\u200e';

/** Text as the fonts have it: composed letters, no control characters, a blank for a letter that none has. */
function printable(text: string): string {
  const words = text.normalize('NFC').replace(/\p{Cc}+/gu, ' ');
  return [...words].map(printed).join('').replace(FROM_THE_RIGHT, `$&${FROM_THE_LEFT}`);
}

export type PaperSize = 'A4' | 'LETTER';

interface SheetProps {
  title: string;
  under: string;
  size: PaperSize;
  /** All that is printed, to see whether the fonts have its letters. */
  letters: string;
  cautions: string[];
  foot: string;
  children: ReactNode;
}

export function Sheet({ title, under, size, letters, cautions, foot, children }: SheetProps) {
  return (
    <Document title={title} language="en">
      <Page size={size} style={look.page}>
        <Text style={look.title}>{printable(title)}</Text>
        <Text style={look.under}>{printable(under)}</Text>
        {isLost(letters.normalize('NFC')) ? (
          <Words wrong>
            {`“${LOST}” stands for a letter that this sheet cannot print. The page on the web shows it: print that instead.`}
          </Words>
        ) : null}
        {children}
        <View style={look.rule} wrap={false}>
          {cautions.map((note) => (
            <Text key={note} style={look.caution}>
              {printable(note)}
            </Text>
          ))}
        </View>
        <Text
          style={look.foot}
          fixed
          render={({ pageNumber, totalPages }) => `${printable(foot)}, page ${pageNumber} of ${totalPages}`}
        />
      </Page>
    </Document>
  );
}

export const Heading = ({ children }: { children: string }) => (
  <Text style={look.heading} minPresenceAhead={30}>
    {printable(children).toUpperCase()}
  </Text>
);

/** Large figures side by side, each with its label and a line of words. */
export const Figures = ({ all }: { all: { label: string; big: string; words: string }[] }) => (
  <View style={[look.rule, { flexDirection: 'row' }]}>
    {all.map(({ label, big, words }) => (
      <View key={label} style={look.figure}>
        <Text style={look.label}>{label}</Text>
        <Text style={look.big}>{printable(big)}</Text>
        <Text>{printable(words)}</Text>
      </View>
    ))}
  </View>
);

export const Row = ({ time, word, rest }: { time: string; word?: string; rest: string }) => (
  <View style={look.row} wrap={false}>
    <Text style={look.time}>{time}</Text>
    {word === undefined ? null : <Text style={look.word}>{printable(word)}</Text>}
    <Text style={look.rest}>{printable(rest)}</Text>
  </View>
);

/** A fact by its name, or a move by its rhythm. */
export const Fact = ({ name, word, rest }: { name: string; word?: string; rest: string }) => (
  <View style={look.row} wrap={false}>
    <Text style={look.name}>{printable(name)}</Text>
    {word === undefined ? null : <Text style={look.word}>{printable(word)}</Text>}
    <Text style={look.rest}>{printable(rest)}</Text>
  </View>
);

export const Words = ({ children, wrong = false }: { children: string; wrong?: boolean }) => (
  <Text style={wrong ? look.alarm : {}}>{printable(children)}</Text>
);
