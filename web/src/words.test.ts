// All words in one place, and every language whole.

import { readFileSync, readdirSync } from "node:fs";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { coreWords, said, type Language } from "../tools/words";
import * as english from "../words/en";

const source = new URL("./", import.meta.url);
const ofCore = coreWords();

/** What is the same in every language: units, and the signs of a drawing or a formula. */
const symbols = new Set(["V", "A", "W", "m", "ms", "kA", "mA", "mm²", "Ω", "MΩ", "Ω·m", "Ω/km", "°C", "K·m/W", "A²s", "M", "R", "RA"]);
/** What a page is built of and nobody reads. */
const technical = new Set([
  "class", "id", "name", "type", "href", "for", "key", "role", "d", "fill", "stroke", "transform", "points", "viewBox", "download", "accept", "autocomplete", "enterkeyhint", "inputMode",
  "aria-hidden", "aria-current", "aria-controls", "aria-labelledby", "aria-describedby", "aria-live", "aria-invalid", "aria-haspopup", "scope", "focusable", "lang", "translate", "rel",
  "text-anchor", "preserveAspectRatio", "patternUnits", "patternTransform", "shape-rendering", "stroke-linecap", "stroke-linejoin", "vector-effect", "clip-path",
  // Of our own components: codes.
  "outcome", "gear", "path", "group", "covers", "spot", "now", "values", "lines", "disabled", "none", "beyond", "value", "kind", "sense", "of", "under", "spur", "distribution", "at",
]);

const words = (text: string) => /\p{L}/u.test(text) && !symbols.has(text.replace(/[\s\u00a0,:()=<>]+/g, " ").trim());

/** The literals that an expression may come to, not those it compares or asks with. */
function comesTo(node: ts.Node): string[] {
  if (ts.isStringLiteralLike(node)) return [node.text];
  if (ts.isTemplateExpression(node)) return [node.head.text, ...node.templateSpans.flatMap(({ expression, literal }) => [...comesTo(expression), literal.text])];
  if (ts.isConditionalExpression(node)) return [...comesTo(node.whenTrue), ...comesTo(node.whenFalse)];
  if (ts.isParenthesizedExpression(node) || ts.isAsExpression(node) || ts.isNonNullExpression(node)) return comesTo(node.expression);
  if (ts.isArrayLiteralExpression(node)) return node.elements.flatMap(comesTo);
  if (ts.isObjectLiteralExpression(node)) return node.properties.flatMap((one) => (ts.isPropertyAssignment(one) && !technical.has(one.name.getText()) ? comesTo(one.initializer) : []));
  if (ts.isBinaryExpression(node)) {
    const { kind } = node.operatorToken;
    if (kind === ts.SyntaxKind.PlusToken) return [...comesTo(node.left), ...comesTo(node.right)];
    if ([ts.SyntaxKind.BarBarToken, ts.SyntaxKind.QuestionQuestionToken].includes(kind)) return [...comesTo(node.left), ...comesTo(node.right)];
    return kind === ts.SyntaxKind.AmpersandAmpersandToken ? comesTo(node.right) : [];
  }
  return [];
}

/** Every literal of a component that somebody could see or hear. */
function literals(file: string, text: string): string[] {
  const tree = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true, file.endsWith("x") ? ts.ScriptKind.TSX : ts.ScriptKind.TS);
  const found: string[] = [];
  const look = (node: ts.Node) => {
    if (ts.isJsxText(node)) found.push(node.text.replace(/&[a-z]+;/g, ""));
    if (ts.isJsxExpression(node) && node.expression && !ts.isJsxAttribute(node.parent)) found.push(...comesTo(node.expression));
    if (ts.isJsxAttribute(node) && node.initializer && !technical.has(node.name.getText())) {
      found.push(...(ts.isJsxExpression(node.initializer) ? (node.initializer.expression ? comesTo(node.initializer.expression) : []) : comesTo(node.initializer)));
    }
    // What is set on the document past the components, or said in passing.
    if (ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.EqualsToken && /\.(title|textContent|innerText|placeholder|ariaLabel|value)$/.test(node.left.getText())
      && !/^(kind|key|of|theme|standing|topic)\./.test(node.left.getText())) found.push(...comesTo(node.right));
    if (ts.isCallExpression(node) && ["tell", "say", "alert", "confirm", "prompt"].includes(node.expression.getText())) found.push(...node.arguments.flatMap(comesTo));
    ts.forEachChild(node, look);
  };
  look(tree);
  return found.filter(words).map((literal) => `${file}: ${literal.trim()}`);
}

/** What has to be there: the paths of texts, and of functions with how many parts they take. */
function shape(of: unknown, at: string): string[] {
  if (typeof of === "function") return [`${at}(${of.length})`];
  if (typeof of !== "object" || of === null) return [at];
  return Object.entries(of).flatMap(([key, one]) => shape(one, at === "" ? key : `${at}.${key}`));
}

/** What a language lacks, has too much, or has with other gaps. */
function amiss({ core, ...own }: Language): string[] {
  const differ = (left: string[], right: string[]) => {
    const [is, should] = [new Set(left), new Set(right)];
    return [...left.filter((one) => !should.has(one)), ...right.filter((one) => !is.has(one))];
  };
  const found = differ(shape({ ...english, core: {} }, ""), shape({ ...own, core: {} }, ""));
  if (own.about.tag.startsWith("en")) return found;
  const gaps = (text: string) => (text.match(/\{[^}:]*/g) ?? []).sort().join();
  return [...found, ...differ(ofCore, Object.keys(core)), ...Object.entries(core).filter(([text, theirs]) => ofCore.includes(text) && gaps(theirs) !== gaps(text)).map(([text]) => text)];
}

describe("words", () => {
  it("are found where they stand in a component", () => {
    const seen = literals("x.tsx", '<p title="Hint" class="a b" onClick={() => tell("Gone", true)}>One{a && "two"}{b ? `three ${"four"}` : words.x}<i unit="mm²" aria-label={c ?? "Five"} />{d === "six" && <b>{", RA "}</b>}</p>');
    expect(seen).toEqual(["Hint", "Gone", "One", "two", "three", "four", "Five"].map((text) => `x.tsx: ${text}`));
  });

  it("are in no component, style or document, but in the catalogue", () => {
    const files = readdirSync(source, { recursive: true, encoding: "utf8" });
    const components = files.filter((file) => /\.tsx?$/.test(file) && !/\.test\.ts$|\.d\.ts$|^pkg/.test(file));
    expect(components.length).toBeGreaterThan(40);
    expect(components.flatMap((file) => literals(file, readFileSync(new URL(file, source), "utf8")))).toEqual([]);
    const styles = files.filter((file) => file.endsWith(".css"));
    expect(styles.flatMap((file) => [...readFileSync(new URL(file, source), "utf8").matchAll(/[^-]content: *("[^"]*")/g)].map(([, text = ""]) => text).filter(words))).toEqual([]);
    const page = readFileSync(new URL("../index.html", source), "utf8");
    expect([...page.matchAll(/>([^<]*)<|(?:title|description)" content="([^"]*)"/g)].map(([, text, content]) => (text ?? content ?? "").replace(/%\w+%/g, "")).filter(words)).toEqual([]);
  }, 60_000);

  it("are in every language the same ones, with the same gaps to fill", async () => {
    const all = import.meta.glob<Language>("../words/*.ts");
    expect(Object.keys(all)).toContain("../words/en.ts");
    for (const [file, load] of Object.entries(all)) expect(amiss(await load()), file).toEqual([]);
    // A language that has all of them, and one with a word too few, a text for a list, an old sentence, a gap lost.
    const core = Object.fromEntries(ofCore.map((text) => [text, text]));
    const whole = { ...english, about: { ...english.about, tag: "xx" }, core };
    expect(amiss(whole)).toEqual([]);
    const { skip, ...less } = english.page;
    expect(skip).not.toBe("");
    const [gap = ""] = ofCore.filter((text) => text.includes("{0}, ") || text.includes("{section}"));
    const [first = "", ...most] = Object.entries(core);
    expect(amiss({ ...whole, page: { ...less, caution: { ...less.caution, points: [] } } as unknown as typeof english.page })).toEqual([
      "page.skip", ...english.page.caution.points.map((_, at) => `page.caution.points.${at}`),
    ]);
    expect(amiss({ ...whole, core: Object.fromEntries(most) })).toEqual([first[0]]);
    expect(amiss({ ...whole, core: { ...core, "No longer said.": "x" } })).toEqual(["No longer said."]);
    expect(amiss({ ...whole, core: { ...core, [gap]: "x" } })).toEqual([gap]);
  });

  it("of the core are put in one by one, and its codes stay", () => {
    const of = { names: { a: "Line", b: "" }, standing: "own", list: ["Line", 2, null] };
    expect(said(of, (text) => text.toUpperCase())).toEqual({ names: { a: "LINE", b: "" }, standing: "own", list: ["LINE", 2, null] });
    expect(ofCore.length).toBeGreaterThan(500);
    expect(ofCore).not.toContain("from memory");
  });
});
