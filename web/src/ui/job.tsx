// The job on the page: its name, where to pass it on, how the page looks.

import { openId } from "../keep/open";
import { theme, themes, type Theme } from "../theme";
import { words } from "words:page";
import { Choosing, TextField } from "./fields";
import { Icon } from "./marks";
import { Cautions } from "./whole";

const w = words.job;

export function JobView() {
  return (
    <div class="sheet">
      <h1 id="here" tabIndex={-1}>{w.title}</h1>
      <div class="grid">
        <TextField label={w.name} path={["name"]} />
        <TextField label={w.notes} path={["notes"]} lines={3} open />
      </div>
      <div>
        <p class="hint">{openId.value === null ? w.notKept : w.kept}</p>
        <p class="acts acts-wide">
          <a class="act act-main" href="#/jobs"><Icon name="jobs" />{w.all}</a>
          <a class="act" href="#/pass"><Icon name="send" />{w.pass}</a>
        </p>
      </div>
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
      <section aria-labelledby="proof">
        <h2 id="proof">{words.selfCheck.why}</h2>
        <p><a class="act" href="#/self-check">{words.selfCheck.title}</a></p>
      </section>
      <section aria-labelledby="class">
        <h2 id="class">{w.class}</h2>
        <p><a class="act" href="#/lesson">{w.classOpen}</a></p>
      </section>
      <section aria-labelledby="look">
        <h2 id="look">{w.look}</h2>
        <Choosing id="theme" label={w.colours} value={theme.value} error={null}
          options={themes.map((value) => ({ value, text: w.theme[value] }))}
          onPick={(picked) => (theme.value = picked as Theme)} />
      </section>
      <Cautions />
    </div>
  );
}
