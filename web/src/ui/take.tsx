// A job that came in the address: shown, and opened when it is asked for.

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Job } from "../job/types";
import { takeJob } from "../keep/file";
import { joined, readPart, unpack } from "../keep/link";
import { startJob } from "../keep/open";
import * as store from "../keep/store";
import { goInstead } from "../route";
import { tell } from "../state";
import { words } from "words:page";

const w = words.take;

export function TakeView({ text }: { text: string }) {
  const came = useSignal<Job | string[] | null>(null);
  useEffect(() => {
    void unpack(text).then((data) => {
      const { jobs: [job], refused } = data === null ? { jobs: [], refused: [w.damaged] } : takeJob(data, words.pass.link);
      came.value = job ?? refused;
    });
  }, []);
  const open = async (job: Job) => {
    if (!(await startJob(job))) return;
    goInstead("#/");
    tell(words.file.opened(job.name), false);
  };
  const job = came.value;
  return (
    <div class="sheet">
      <h1 id="here" tabIndex={-1}>{w.title}</h1>
      {job === null && <p role="status">{w.reading}</p>}
      {Array.isArray(job) && <div role="alert"><ul class="wrong refused-file">{job.map((one) => <li key={one}>{one}</li>)}</ul></div>}
      {job !== null && !Array.isArray(job) && (
        <div class="came">
          <p class="hint">{w.name}</p>
          <p class="came-name">{job.name === "" ? words.place.unnamed : job.name}</p>
          <p>{w.holds(job.boards.length, job.circuits.length)}</p>
          {job.notes !== null && <p>{job.notes}</p>}
          <p class="hint">{w.hint}</p>
        </div>
      )}
      <div class="acts acts-wide">
        {job !== null && !Array.isArray(job) && <button type="button" class="act act-main" onClick={() => void open(job)}>{w.open}</button>}
        <button type="button" class="act" onClick={() => goInstead("#/")}>{Array.isArray(job) ? words.act.close : w.not}</button>
      </div>
    </div>
  );
}

/** One of several codes. Each may be opened in a tab of its own, so what came is laid where all of them find it. */
export function PartView({ text }: { text: string }) {
  const part = readPart(text.split("/"));
  const missing = useSignal<string | null>(null);
  useEffect(() => {
    if (part === null) return;
    const under = `part.${part.sum}.`;
    const take = async () => {
      await store.note(`${under}${part.number}`, part.text);
      const parts = new Map((await store.notesUnder(under)).map(([key, held]) => [Number(key.slice(under.length)), held]));
      const all = joined(part.of, part.sum, parts);
      if (all !== null) {
        await store.forgetUnder("part.");
        goInstead(`#/take/${all}`);
      } else {
        const open = Array.from({ length: part.of }, (_, at) => at + 1).filter((number) => !parts.has(number));
        missing.value = open.length > 0 ? w.missing(open.join(", ")) : w.damaged;
      }
    };
    take().catch((reason: unknown) => {
      console.warn(reason);
      missing.value = words.jobs.noStorage;
    });
  }, []);
  return (
    <div class="sheet">
      <h1 id="here" tabIndex={-1}>{w.part}</h1>
      {part === null ? <p class="wrong" role="alert">{w.damaged}</p> : (
        <div class="came" role="status">
          <p class="came-name">{w.got(part.number, part.of)}</p>
          <p>{missing.value}</p>
        </div>
      )}
      <div class="acts acts-wide"><button type="button" class="act" onClick={() => goInstead("#/")}>{words.act.close}</button></div>
    </div>
  );
}
