// The job as a thing: its name, its file, how the page looks.

import { useSignal } from "@preact/signals";
import { fresh } from "../job/fresh";
import { readJob, type Problem } from "../job/read";
import { asFile } from "../keep";
import { go } from "../route";
import { change, exampleJob, job, tell } from "../state";
import { theme, type Theme } from "../theme";
import { words } from "../words";
import { Choosing, TextField } from "./fields";
import { Icon } from "./marks";
import { Cautions } from "./whole";

const w = words.job;
const largest = 5_000_000;

function say(problem: Problem): string {
  if (problem.kind === "newer") return words.file.newer;
  return problem.kind === "wrong" ? words.file.wrong(problem.path, problem.wanted) : words.file[problem.kind](problem.path);
}

export function JobView() {
  const refused = useSignal<string[]>([]);
  const open = async (file: File) => {
    refused.value = [];
    if (file.size > largest) {
      refused.value = [words.file.tooLarge];
      return;
    }
    let data: unknown;
    try {
      data = JSON.parse(await file.text());
    } catch {
      refused.value = [words.file.notJson];
      return;
    }
    const reading = readJob(data);
    if (!reading.job) {
      const shown = reading.problems.slice(0, 8).map(say);
      const more = reading.problems.length - shown.length;
      refused.value = [words.file.refused, ...shown, ...(more > 0 ? [words.file.more(more)] : [])];
      return;
    }
    change(reading.job);
    tell(words.file.opened(reading.job.name), true);
    go("#/");
  };
  const save = () => {
    const { name, blob } = asFile(job.value);
    const link = document.createElement("a");
    link.href = URL.createObjectURL(blob);
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  };
  const replace = (next: ReturnType<typeof exampleJob>) => {
    change(next);
    tell(w.replaced, true);
    go("#/");
  };
  return (
    <div class="sheet">
      <h1 id="here" tabIndex={-1}>{w.title}</h1>
      <div class="grid">
        <TextField label={w.name} path={["name"]} />
        <TextField label={w.notes} path={["notes"]} lines={3} open />
      </div>
      <section aria-labelledby="file">
        <h2 id="file">{w.file}</h2>
        <p class="hint">{w.kept}</p>
        <div class="acts acts-wide">
          <button type="button" class="act act-main" onClick={save}>{w.save}</button>
          <label class="act act-file">
            {w.open}
            <input type="file" accept=".json,application/json" onChange={(event) => {
              const input = event.currentTarget;
              const file = input.files?.[0];
              if (file) void open(file).finally(() => (input.value = ""));
            }} />
          </label>
          <button type="button" class="act" onClick={() => replace(fresh.job(w.freshName, words.act.newBoard))}>{w.fresh}</button>
          <button type="button" class="act" onClick={() => replace(exampleJob())}>{w.example}</button>
        </div>
        <div role="alert">
          {refused.value.length > 0 && <ul class="wrong refused-file">{refused.value.map((one) => <li key={one}>{one}</li>)}</ul>}
        </div>
      </section>
      <section aria-labelledby="tested">
        <h2 id="tested">{words.meter.glance.title}</h2>
        <p class="acts acts-wide">
          <a class="act" href="#/readings"><Icon name="meter" />{words.meter.toWhole}</a>
          <a class="act" href="#/instruments">{words.instruments.open}</a>
          <a class="act" href="#/record"><Icon name="print" />{words.record.open}</a>
        </p>
      </section>
      <section aria-labelledby="rules">
        <h2 id="rules">{w.rules}</h2>
        <p><a class="act" href="#/rules">{w.rulesOpen}</a></p>
      </section>
      <section aria-labelledby="look">
        <h2 id="look">{w.look}</h2>
        <Choosing id="theme" label={w.colours} value={theme.value} error={null}
          options={(["device", "light", "dark"] as const).map((value) => ({ value, text: w.theme[value] }))}
          onPick={(picked) => (theme.value = picked as Theme)} />
      </section>
      <Cautions />
    </div>
  );
}
