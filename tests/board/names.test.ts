import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { expect, test } from 'vitest';

const ROOT = join(import.meta.dirname, '../..');
/** Where names from outside are met. */
const rooms = ['lib/board', 'lib/access', 'lib/protocol', 'server'];

/** Places in a source where a name that is not written there is asked of an object, which answers to `constructor`, too. */
function asked(name: string, source: string): string[] {
  const file = ts.createSourceFile(name, source, ts.ScriptTarget.Latest, true);
  const found: string[] = [];
  const look = (node: ts.Node): void => {
    const isAsked =
      ts.isBinaryExpression(node) &&
      node.operatorToken.kind === ts.SyntaxKind.InKeyword &&
      !ts.isStringLiteral(node.left);
    if (isAsked) found.push(`${name}: ${node.getText(file)}`);
    ts.forEachChild(node, look);
  };
  look(file);
  return found;
}

test('nothing asks with "in" whether a name from outside is there: that is true of all that is inherited', () => {
  const found = rooms.flatMap((room) =>
    readdirSync(join(ROOT, room), { recursive: true, encoding: 'utf8' })
      .filter((path) => path.endsWith('.ts'))
      .flatMap((path) => asked(join(room, path), readFileSync(join(ROOT, room, path), 'utf8'))),
  );
  expect(found).toEqual([]);
  expect(asked('a.ts', 'if (mark in attributes && "code" in error) go();')).toEqual([
    'a.ts: mark in attributes',
  ]);
});
