/** Every string of the viewer's source that a person can read. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';

const NO_WORDS =
  /^(class|className|id|type|d|key|href|src|viewBox|transform|role|fill|stroke|style|points|rel)$/;

/** (file:line, text) of each; values in it are shown as …. */
export function stringsOf(source: string, file: string): [string, string][] {
  const parsed = ts.createSourceFile(file, source, ts.ScriptTarget.Latest, true);
  const found: [string, string][] = [];
  const visit = (node: ts.Node): void => {
    if (isCode(node, parsed)) return;
    const text = wordsOf(node);
    const { line } = parsed.getLineAndCharacterOfPosition(node.getStart(parsed));
    if (text && /[A-Za-z]{3}/.test(text)) found.push([`${file}:${line + 1}`, text]);
    ts.forEachChild(node, visit);
  };
  visit(parsed);
  return found;
}

const isCode = (node: ts.Node, parsed: ts.SourceFile): boolean =>
  ts.isImportDeclaration(node) ||
  ts.isExportDeclaration(node) ||
  ts.isTypeNode(node) ||
  (ts.isJsxAttribute(node) && NO_WORDS.test(node.name.getText(parsed)));

function wordsOf(node: ts.Node): string {
  if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) return node.text;
  if (ts.isJsxText(node)) return node.text.replace(/\s+/g, ' ').trim();
  if (!ts.isTemplateExpression(node)) return '';
  return node.head.text + node.templateSpans.map(({ literal }) => `…${literal.text}`).join('');
}

/** The sources below a folder, tests and generated files left out. */
export function sourcesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .filter((name) => !/\.test\.ts$|^testing|contract\.ts$|latin\.ts$/.test(name))
    .map((name) => join(folder, name));
}

export const textOf = (file: string): string => readFileSync(file, 'utf8');
