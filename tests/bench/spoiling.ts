import ts from 'typescript';

/** A source file spoilt in one place. */
export interface Spoilt {
  /** From 1. */
  line: number;
  was: string;
  is: string;
  text: string;
}

/** What each operator is taken for. */
const OPERATORS: Partial<Record<ts.SyntaxKind, string>> = {
  [ts.SyntaxKind.EqualsEqualsEqualsToken]: '!==',
  [ts.SyntaxKind.ExclamationEqualsEqualsToken]: '===',
  [ts.SyntaxKind.LessThanToken]: '<=',
  [ts.SyntaxKind.LessThanEqualsToken]: '<',
  [ts.SyntaxKind.GreaterThanToken]: '>=',
  [ts.SyntaxKind.GreaterThanEqualsToken]: '>',
  [ts.SyntaxKind.AmpersandAmpersandToken]: '||',
  [ts.SyntaxKind.BarBarToken]: '&&',
  [ts.SyntaxKind.AmpersandToken]: '|',
  [ts.SyntaxKind.BarToken]: '&',
  [ts.SyntaxKind.CaretToken]: '|',
  [ts.SyntaxKind.LessThanLessThanToken]: '>>',
  [ts.SyntaxKind.PlusToken]: '-',
  [ts.SyntaxKind.MinusToken]: '+',
  [ts.SyntaxKind.AsteriskToken]: '/',
  [ts.SyntaxKind.SlashToken]: '*',
  [ts.SyntaxKind.PercentToken]: '*',
};

/**
 * Every way to spoil a file in one place: another operator, a condition always or never true, the two sides of a choice exchanged, a
 * number one more, a truth turned round, a word emptied, a part of a list or a statement left out (mutation operators; DeMillo, Lipton
 * and Sayward 1978).
 */
export function spoiltWays(source: string): Spoilt[] {
  const file = ts.createSourceFile('spoilt.ts', source, ts.ScriptTarget.Latest, true);
  const ways: Spoilt[] = [];
  const put = (node: ts.Node, is: string) => {
    const from = node.getStart(file);
    ways.push({
      line: file.getLineAndCharacterOfPosition(from).line + 1,
      was: node.getText(file),
      is,
      text: source.slice(0, from) + is + source.slice(node.getEnd()),
    });
  };
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isTypeNode(node) || isOfTypes(node)) return;
    if (ts.isBinaryExpression(node)) {
      const operator = OPERATORS[node.operatorToken.kind];
      if (operator) put(node.operatorToken, operator);
    } else if (ts.isIfStatement(node)) {
      for (const is of ['true', 'false']) put(node.expression, is);
    } else if (ts.isConditionalExpression(node)) {
      for (const is of ['true', 'false']) put(node.condition, is);
    } else if (ts.isPrefixUnaryExpression(node) && node.operator === ts.SyntaxKind.ExclamationToken) {
      put(node, node.operand.getText(file));
    } else if (ts.isNumericLiteral(node)) {
      put(node, String(Number(node.text) + 1));
    } else if (node.kind === ts.SyntaxKind.TrueKeyword) {
      put(node, 'false');
    } else if (node.kind === ts.SyntaxKind.FalseKeyword) {
      put(node, 'true');
    } else if (ts.isStringLiteral(node)) {
      put(node, "''");
    } else if (ts.isExpressionStatement(node)) {
      put(node, ';');
    } else if (ts.isArrayLiteralExpression(node)) {
      for (const element of node.elements) put(element, '');
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return ways;
}

const isOfTypes = (node: ts.Node): boolean =>
  ts.isInterfaceDeclaration(node) || ts.isTypeAliasDeclaration(node) || ts.isTypeParameterDeclaration(node);
