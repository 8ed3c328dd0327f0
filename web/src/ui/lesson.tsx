// For a class: a set of exercises is made from a seed and handed on as a link or a file; the answers stay hidden until
// the learner has tried; the trainer has them on a sheet.

import { useSignal, type Signal } from "@preact/signals";
import { useMemo } from "preact/hooks";
import { csv } from "../csv";
import { readNumber } from "../job/number";
import { hand } from "../keep/file";
import { answersOf, asFile, fromFile, hrefOf, most, questionsOf, readAsked, textOf, toldOf, type Answer, type Lesson, type Question, type Step, type Told } from "../lesson";
import { go } from "../route";
import { said, tell } from "../state";
import "../style/lesson.css";
import { words as all } from "words:page";
import { words } from "words:lesson";
import { Choosing } from "./fields";
import { Icon, Mark } from "./marks";

const kindNames = Object.keys(words.kinds);

export function LessonView({ text }: { text: string }) {
  const asked = readAsked(text);
  const lesson = asked?.lesson ?? null;
  return (
    <div class="sheet lesson">
      <header>
        <p class="app-name">{words.title}</p>
        <h1 id="here" tabIndex={-1}>{lesson === null ? words.make.title : asked?.sheet ? words.sheet.title : words.set.title}</h1>
      </header>
      {asked === null && <p class="wrong">{words.set.noSet}</p>}
      {lesson === null ? <Make /> : asked?.sheet ? <Sheet lesson={lesson} />
        : lesson.each && asked?.learner === null ? <Who lesson={lesson} /> : <Exercises key={text} lesson={lesson} learner={asked?.learner ?? 0} />}
    </div>
  );
}

// For the trainer.

function anySeed(): number {
  return crypto.getRandomValues(new Uint16Array(1))[0] ?? 1;
}

function Whole({ id, label, hint, value, from, to, onEnter }: { id: string; label: string; hint?: string; value: number | null; from: number; to: number; onEnter: (value: number | null) => void }) {
  const typed = useSignal<string | null>(null);
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <div class="entry">
        <input id={id} type="text" inputMode="numeric" autocomplete="off" value={value === null ? typed.value ?? "" : String(value)}
          aria-invalid={value === null ? true : undefined} aria-describedby={hint === undefined ? undefined : `${id}-hint`}
          onInput={(event) => {
            typed.value = event.currentTarget.value;
            const number = /^\d{1,10}$/.test(typed.value) ? Number(typed.value) : null;
            onEnter(number !== null && number >= from && number <= to ? number : null);
          }} />
      </div>
      {hint !== undefined && <p class="hint" id={`${id}-hint`}>{hint}</p>}
    </div>
  );
}

function Make() {
  const w = words.make;
  const kinds = useSignal<string[]>(["r1r2", "ring-r1r2", "zs", "max-zs", "fault-current", "drop-radial"]);
  const seed = useSignal<number | null>(anySeed());
  const count = useSignal<number | null>(12);
  const each = useSignal(false);
  const refused = useSignal(false);
  const lesson: Lesson | null = seed.value === null || count.value === null || kinds.value.length === 0 ? null
    : { seed: seed.value, count: count.value, each: each.value, kinds: kindNames.filter((kind) => kinds.value.includes(kind)) };
  const copy = async (of: Lesson) => {
    try {
      await navigator.clipboard.writeText(new URL(hrefOf(of), location.href).href);
      tell(w.copied, false);
    } catch {
      tell(w.notCopied, false);
    }
  };
  return (
    <>
      <p class="hint">{words.hint}</p>
      <fieldset class="field">
        <legend>{w.kinds}</legend>
        <div class="chips">
          {kindNames.map((kind) => (
            <label key={kind} class="chip">
              <input type="checkbox" checked={kinds.value.includes(kind)}
                onChange={(event) => (kinds.value = event.currentTarget.checked ? [...kinds.value, kind] : kinds.value.filter((one) => one !== kind))} />
              <span>{words.kinds[kind]?.name}</span>
            </label>
          ))}
        </div>
        {kinds.value.length === 0 && <p class="wrong">{w.nothing}</p>}
      </fieldset>
      <div class="grid">
        <Whole id="lesson-count" label={w.count} value={count.value} from={1} to={most} onEnter={(value) => (count.value = value)} />
        <Whole id="lesson-seed" label={w.seed} hint={w.seedHint} value={seed.value} from={0} to={0xffff_ffff} onEnter={(value) => (seed.value = value)} />
        <Choosing id="lesson-numbers" label={w.numbers} value={each.value ? "each" : "same"} error={null}
          options={[{ value: "same", text: w.same }, { value: "each", text: w.each }]} onPick={(picked) => (each.value = picked === "each")} />
      </div>
      <div class="acts acts-wide">
        {lesson && (
          <>
            <a class="act act-main" href={hrefOf(lesson)}><Icon name="go" />{w.open}</a>
            <a class="act" href={hrefOf(lesson, "sheet")}><Icon name="print" />{w.sheet}</a>
            <button type="button" class="act" onClick={() => void copy(lesson)}><Icon name="copy" />{w.link}</button>
            <button type="button" class="act" onClick={() => hand(`exercises-${lesson.seed}.faultpath.json`, "application/json", asFile(lesson))}><Icon name="save" />{w.file}</button>
          </>
        )}
        <button type="button" class="act" onClick={() => (seed.value = anySeed())}>{w.another}</button>
        <label class="act act-file">
          {w.openFile}
          <input type="file" accept=".json,application/json" onChange={(event) => {
            const input = event.currentTarget;
            const file = input.files?.[0];
            if (!file) return;
            void (file.size > 100_000 ? Promise.resolve("") : file.text()).then((text) => {
              const found = fromFile(text);
              refused.value = found === null;
              if (found) go(hrefOf(found));
              input.value = "";
            });
          }} />
        </label>
      </div>
      <div role="alert">{refused.value && <p class="wrong">{w.notSet}</p>}</div>
    </>
  );
}

function Sheet({ lesson }: { lesson: Lesson }) {
  const w = words.sheet;
  const learners = useSignal<number | null>(lesson.each ? 10 : 1);
  const upTo = Math.min(learners.value ?? 1, 60);
  const sheets = useMemo(() => (lesson.each ? Array.from({ length: upTo }, (_, n) => n + 1) : [0]).map((learner) => ({ learner, answers: answersOf(lesson, learner) })), [textOf(lesson), upTo]);
  return (
    <>
      <p>{w.about(lesson.seed, lesson.count)} {w.private}</p>
      <div class="no-print">
        {lesson.each && <Whole id="lesson-learners" label={w.learners} value={learners.value} from={1} to={60} onEnter={(value) => (learners.value = value)} />}
        <p class="acts">
          <button type="button" class="act act-main" onClick={() => print()}><Icon name="print" />{w.print}</button>
          <a class="act" href={hrefOf(lesson)}><Icon name="go" />{words.make.open}</a>
          <a class="act" href="#/lesson">{words.set.back}</a>
        </p>
      </div>
      {sheets.map(({ learner, answers }) => (
        <section key={learner} class="answers">
          {lesson.each && <h2>{words.learner.is(learner)}</h2>}
          <ol>{answers.map((answer, index) => <SheetLine key={index} answer={answer} number={index + 1} />)}</ol>
        </section>
      ))}
    </>
  );
}

function SheetLine({ answer, number }: { answer: Answer; number: number }) {
  const { name, device, given, shown, slips } = answer;
  return (
    <li class="answer">
      <p><b>{number}. {name}</b>: <b class="answer-value">{shown}</b></p>
      <p class="hint">{[device, ...given.map((one) => `${one.name} ${one.shown}`)].filter((part) => part !== "").join("; ")}</p>
      <ul>{slips.map(({ text, shown: wrong }) => <li key={text}>{wrong}: {text}</li>)}</ul>
    </li>
  );
}

// For the learner.

function Who({ lesson }: { lesson: Lesson }) {
  const w = words.learner;
  const number = useSignal<number | null>(null);
  return (
    <form onSubmit={(event) => {
      event.preventDefault();
      if (number.value !== null) go(hrefOf(lesson, String(number.value)));
    }}>
      <h2>{w.title}</h2>
      <Whole id="lesson-learner" label={w.label} hint={w.hint} value={number.value} from={1} to={999} onEnter={(value) => (number.value = value)} />
      <p class="acts"><button type="submit" class="act act-main" disabled={number.value === null}>{w.begin}</button></p>
    </form>
  );
}

type Try = Told & { entered: string };
type Tries = Record<number, Try[]>;

const slot = (lesson: Lesson, learner: number) => `faultpath.lesson.${textOf(lesson)}/${learner}`;

function keptTries(lesson: Lesson, learner: number): Tries {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(slot(lesson, learner)) ?? "{}");
    const tries: Tries = {};
    // What is kept is only what was entered; it is told anew.
    for (const [number, entered] of Object.entries(found as Record<string, unknown>)) {
      if (!Array.isArray(entered)) continue;
      tries[Number(number)] = entered.filter((text): text is string => typeof text === "string").map((text) => ({ entered: text, ...toldOf(lesson, learner, Number(number), readNumber(text) ?? Number.NaN) }));
    }
    return tries;
  } catch {
    return {};
  }
}

const isRight = (list: Try[] | undefined) => list?.some(({ told }) => told === "right") ?? false;

function Exercises({ lesson, learner }: { lesson: Lesson; learner: number }) {
  const w = words.set;
  const questions = useMemo(() => questionsOf(lesson, learner), []);
  const tries = useSignal<Tries>(useMemo(() => keptTries(lesson, learner), []));
  const right = questions.filter((_, number) => isRight(tries.value[number])).length;
  const keep = (next: Tries) => {
    tries.value = next;
    try {
      localStorage.setItem(slot(lesson, learner), JSON.stringify(Object.fromEntries(Object.entries(next).map(([number, list]) => [number, list.map(({ entered }) => entered)]))));
    } catch {
      // Without storage the page itself still has them.
    }
  };
  const results = () => questions.map(({ kind }, number) => {
    const list = tries.value[number] ?? [];
    const result = isRight(list) ? "right" : list.at(-1)?.told ?? "";
    return { exercise: number + 1, kind, learner, tries: list.length, result, entries: list.map(({ entered, told, slips }) => ({ entered, told, slips })) };
  });
  const name = `results-${lesson.seed}${learner === 0 ? "" : `-${learner}`}.faultpath`;
  return (
    <>
      <p class="hint no-print">{w.kept}</p>
      <p><b>{lesson.each && `${words.learner.is(learner)}: `}{w.done(right, questions.length)}</b></p>
      <ol class="exercises">
        {questions.map((question, number) => (
          <Exercise key={number} question={question} number={number} lesson={lesson} learner={learner} tries={tries}
            onTry={(one) => keep({ ...tries.value, [number]: [...(tries.value[number] ?? []), one] })} />
        ))}
      </ol>
      <section aria-labelledby="results" class="no-print">
        <h2 id="results">{w.results}</h2>
        <p>{w.done(right, questions.length)}</p>
        <div class="acts acts-wide">
          <button type="button" class="act" onClick={() => hand(`${name}.csv`, "text/csv", csv(words.columns, results().map(({ entries, ...rest }) => [...Object.values(rest), entries.map(({ entered, slips, told }) => `${entered} (${[told, ...slips].join(" ")})`).join("; ")])))}><Icon name="save" />{w.csv}</button>
          <button type="button" class="act" onClick={() => hand(`${name}.json`, "application/json", `${JSON.stringify({ format: "faultpath-lesson-results", version: 1, set: textOf(lesson), learner, right, results: results() }, null, 2)}\n`)}><Icon name="save" />{w.json}</button>
          <button type="button" class="act" onClick={() => {
            keep({});
            tell(w.resetDone, false);
          }}>{w.reset}</button>
          {lesson.each && <a class="act" href={hrefOf(lesson)}>{words.learner.other}</a>}
          <a class="act" href="#/lesson">{w.back}</a>
        </div>
      </section>
    </>
  );
}

function sentence({ told, slips }: Told): string {
  const w = words.told;
  return told === "slip" ? `${w.slip}${slips.map((slip) => words.slips[slip] ?? slip).join(w.or)}.` : w[told];
}

const outcomes = { right: "pass", rounded: "doubtful", slip: "fail", wrong: "fail" } as const;

function Exercise({ question, number, lesson, learner, tries, onTry }: {
  question: Question; number: number; lesson: Lesson; learner: number; tries: Signal<Tries>; onTry: (one: Try) => void;
}) {
  const w = words.set;
  const list = tries.value[number] ?? [];
  const last = list.at(-1);
  const text = useSignal(last?.entered ?? "");
  const wrong = useSignal(false);
  const shown = useSignal(false);
  const id = `exercise-${number + 1}`;
  const check = () => {
    const value = readNumber(text.value);
    wrong.value = value === null || Number.isNaN(value);
    if (value === null || wrong.value) return;
    const told = toldOf(lesson, learner, number, value);
    onTry({ entered: text.value, ...told });
    said.value = sentence(told);
  };
  return (
    <li class="exercise">
      <h2>{w.number(number + 1)}: {question.name}</h2>
      <dl class="pairs" aria-label={w.given}>
        {question.device !== "" && <div><dt>{all.circuit.device}</dt><dd>{question.device}</dd></div>}
        {question.given.map(({ name, shown: value }) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}
      </dl>
      <form onSubmit={(event) => {
        event.preventDefault();
        check();
      }}>
        <div class={`field${wrong.value ? " is-wrong" : ""}`}>
          <label for={id}>{question.ask}</label>
          <div class="entry">
            <input id={id} type="text" inputMode="decimal" autocomplete="off" enterkeyhint="done" value={text.value} aria-invalid={wrong.value ? true : undefined}
              aria-describedby={`${id}-unit ${id}-told`} onInput={(event) => (text.value = event.currentTarget.value)} />
            <span class="unit" id={`${id}-unit`} aria-hidden="true">{question.unit}</span>
          </div>
        </div>
        <p class="acts">
          <button type="submit" class="act act-main">{w.check}</button>
          {list.length > 0 && <button type="button" class="act" aria-expanded={shown.value} onClick={() => (shown.value = !shown.value)}>{shown.value ? w.hide : w.show}</button>}
        </p>
      </form>
      <div id={`${id}-told`} class="told-here">
        {wrong.value && <p class="wrong">{w.notNumber}</p>}
        {!wrong.value && last && <p class={`told-${last.told}`}><Mark outcome={outcomes[last.told]} /><span><b>{last.entered} {question.unit}</b>: {sentence(last)} <small>{w.again(list.length)}</small></span></p>}
      </div>
      {shown.value && <Working lesson={lesson} learner={learner} number={number} />}
    </li>
  );
}

function Working({ lesson, learner, number }: { lesson: Lesson; learner: number; number: number }) {
  const answer = useMemo(() => answersOf(lesson, learner)[number], [number]);
  if (!answer) return null;
  return (
    <ol class="lines">
      {answer.working.map((step: Step, index) => (
        <li key={index}>
          <p><b>{step.symbol}</b>, {step.name}: {step.formula}</p>
          <p>= {step.filled} = <b>{step.shown}</b></p>
          <p class="hint">{step.source} ({all.working.standing[step.standing]})</p>
        </li>
      ))}
    </ol>
  );
}
