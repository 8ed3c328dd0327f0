// The evidence, run where the user is: how much agrees, and every row with what was expected and what came.

import { useSignal, useComputed } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { check, count, deviation, figure, inputs, selfCheck, sound, unsupported, type Checked, type State } from "../evidence";
import { site } from "../site";
import { said, tell } from "../state";
import { words } from "words:page";
import { Choosing } from "./fields";
import { Standing } from "./found";
import { Icon, Mark } from "./marks";

const w = words.selfCheck;
const standings = ["published", "common practice", "from memory", "own"] as const;
const onlyMemory = "nothing";
const page = 50;

function percent(share: number): string {
  const text = share > 0 && share < 0.001 ? "<\u20090.1" : (share * 100).toFixed(share < 0.1 ? 1 : 0);
  return `${text}\u00a0%`;
}

export function SelfCheckView() {
  const open = site.value;
  const state = selfCheck.value;
  useEffect(() => {
    if (open === true && selfCheck.peek().at === "idle") void check();
  }, [open]);
  useEffect(() => {
    if (state.at !== "done") return;
    if (sound(state)) said.value = w.sound(state.checked.length);
    else tell(w.rely, false);
  }, [state]);
  return (
    <div class="sheet self-check">
      <h1 id="here" tabIndex={-1}>{w.title}</h1>
      <p class="hint">{w.hint}</p>
      {open === null || state.at === "broken" ? <p class="wrong">{w.unable}</p> : <Result state={state} />}
      <p class="hint">{w.meaning}</p>
      <div class="acts acts-wide">
        <button type="button" class="act act-main" disabled={open !== true || state.at === "running"} onClick={() => void check()}>{w.again}</button>
        <button type="button" class="act" disabled={state.at !== "done"} onClick={() => print()}><Icon name="print" />{w.print}</button>
      </div>
      {state.at === "done" && <><Topics state={state} /><Rows state={state} /></>}
    </div>
  );
}

function Result({ state }: { state: State }) {
  const all = state.evidence?.rows.length ?? 0;
  if (state.at !== "done") {
    return (
      <div class="self-check-way">
        <p>{all === 0 ? w.opening : w.running(state.checked.length, all)}</p>
        <progress max={Math.max(all, 1)} value={state.checked.length} aria-label={w.progress} />
      </div>
    );
  }
  const counted = count(state.checked);
  const good = sound(state);
  const outcome = good ? "pass" : "fail";
  const off = counted.rows - counted.agree;
  return (
    <section aria-labelledby="result">
      <h2 id="result" class="out">{w.result}</h2>
      <div class={`tag tag-${outcome}`}>
        <Mark outcome={outcome} size={44} />
        <div class="tag-words">
          <strong class="tag-word self-check-word">{off > 0 ? w.off(off, counted.rows) : good ? w.sound(counted.rows) : w.alikeNot(state.judged - state.alike)}</strong>
          {!good && <span class="tag-text">{w.rely}</span>}
        </div>
      </div>
      <dl class="pairs">
        <div><dt>{w.agree}</dt><dd>{w.of(counted.agree, counted.rows)}</dd></div>
        <div><dt>{w.alike}</dt><dd>{w.of(state.alike, state.judged)}</dd></div>
        <div><dt>{w.memory}</dt><dd>{w.of(counted.memory, counted.rows)}</dd></div>
        <div><dt>{w.unsupported}</dt><dd>{w.of(counted.unsupported, counted.memory)}</dd></div>
        <div><dt>{w.took}</dt><dd>{w.seconds((state.took / 1000).toFixed(1))}</dd></div>
        {counted.worst && <div><dt>{w.largest}</dt><dd>{w.ofTolerance(percent(counted.worst.held.share ?? 0))}</dd></div>}
      </dl>
      {counted.worst && <ul class="held-list held-worst"><Held one={counted.worst} state={state} /></ul>}
    </section>
  );
}

function Topics({ state }: { state: State }) {
  const topics = Object.keys(state.evidence?.topics ?? {});
  return (
    <section aria-labelledby="topics">
      <h2 id="topics">{w.byTopic}</h2>
      <table class="held-topics">
        <thead><tr><th scope="col">{w.topic}</th><th scope="col">{w.rows}</th><th scope="col">{w.agreeShort}</th><th scope="col">{w.furthest}</th></tr></thead>
        <tbody>
          {topics.map((topic) => {
            const { rows, agree, worst } = count(state.checked.filter(({ row }) => row.topic === topic));
            return (
              <tr key={topic} class={agree < rows ? "is-off" : ""}>
                <th scope="row">{w.topics[topic] ?? topic}</th><td>{rows}</td><td>{agree}</td><td>{percent(worst?.held.share ?? 0)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

function Rows({ state }: { state: State }) {
  const topic = useSignal("");
  const standing = useSignal("");
  const wanted = useSignal(page);
  const shown = useSignal(page);
  const found = useComputed(() => {
    const { checked } = selfCheck.value;
    const some = checked.filter(({ row }) => (topic.value === "" || row.topic === topic.value)
      && (standing.value === "" || row.standing === standing.value || (standing.value === onlyMemory && unsupported(row))));
    return [...some.filter(({ held }) => !held.agrees), ...some.filter(({ held }) => held.agrees)];
  }).value;
  // Thousands at once would hold the page up.
  useEffect(() => {
    if (shown.value >= Math.min(wanted.value, found.length)) return undefined;
    const frame = requestAnimationFrame(() => (shown.value = Math.min(shown.value + 2 * page, wanted.value)));
    return () => cancelAnimationFrame(frame);
  }, [shown.value, wanted.value, found.length]);
  const pick = (of: typeof topic) => (value: string) => {
    of.value = value;
    wanted.value = page;
    shown.value = page;
  };
  const all = { value: "", text: w.everything };
  const topics = Object.keys(state.evidence?.topics ?? {}).map((value) => ({ value, text: w.topics[value] ?? value }));
  const list = found.slice(0, shown.value);
  return (
    <section aria-labelledby="rows">
      <h2 id="rows">{w.rows}</h2>
      <div class="grid no-print">
        <Choosing id="rows-topic" label={w.topic} value={topic.value} error={null} options={[all, ...topics]} onPick={pick(topic)} />
        <Choosing id="rows-standing" label={w.standing} value={standing.value} error={null} onPick={pick(standing)}
          options={[all, ...standings.map((value) => ({ value, text: words.working.standing[value] })), { value: onlyMemory, text: w.onlyMemory }]} />
      </div>
      <p class="held-count" role="status">{found.length === 0 ? w.none : w.shown(list.length, found.length)}</p>
      <ul class="held-list">{list.map((one, at) => <Held key={at} one={one} state={state} />)}</ul>
      {list.length < found.length && (
        <div class="acts acts-wide">
          <button type="button" class="act" onClick={() => (wanted.value = shown.value + page)}>{w.more(Math.min(page, found.length - list.length))}</button>
          <button type="button" class="act" onClick={() => (wanted.value = found.length)}>{w.all(found.length)}</button>
        </div>
      )}
    </section>
  );
}

/** What a row says of itself is quoted: it is English in every language. */
function Held({ one: { row, held }, state }: { one: Checked; state: State }) {
  const { units = {}, documents = {} } = state.evidence?.topics[row.topic] ?? {};
  const editions = Object.entries(documents).filter(([name]) => row.source.includes(name));
  const outcome = held.agrees ? "pass" : "fail";
  const allowed = row.abs !== null ? (row.abs === 0 ? w.exact : `±\u202f${figure(row.abs, row.unit)}`) : `±\u202f${percent(row.rel ?? 0)}`;
  return (
    <li class={`held${held.agrees ? "" : " is-off"}`}>
      <p class="held-ask"><Mark outcome={outcome} size={18} /><span class="out">{held.agrees ? w.agrees : w.doesNot}. </span><b lang="en">{row.ask.replace(/-/g, " ")}</b></p>
      <p class="held-inputs" lang="en">{inputs(row, units)}</p>
      <dl class="held-figures">
        <div><dt>{w.expected}</dt><dd>{figure(row.expect, row.unit)}</dd></div>
        <div><dt>{w.came}</dt><dd>{held.got === null ? w.noAnswer : figure(held.got, row.unit)}</dd></div>
        {held.off !== null && <div><dt>{w.difference}</dt><dd>{deviation(held.off, row.unit)}{held.share !== null && held.share > 0 && <small> {w.ofTolerance(percent(held.share))}</small>}</dd></div>}
        <div><dt>{w.within}</dt><dd>{allowed} <small lang="en">{row.why}</small></dd></div>
      </dl>
      <p class="held-source"><Standing of={row.standing} /> <span lang="en">{row.source}{editions.map(([name, edition]) => <small key={name}> {name}: {edition}.</small>)}</span></p>
      <p class="held-support">{unsupported(row) ? <b>{w.unsupportedShort}</b> : w.support}: <span lang="en">{row.support}</span></p>
    </li>
  );
}
