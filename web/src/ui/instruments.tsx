// How far the instruments may be out, and how warm the conductors are while they are tested.

import { fresh } from "../job/fresh";
import { showNumber } from "../job/number";
import type { Path } from "../job/path";
import type { InstrumentName, Testing } from "../job/types";
import { job, offered } from "../state";
import { words } from "words:page";
import { NumberField, Optional } from "./fields";
import { Fold } from "./fold";
import { Standing } from "./found";
import { useReading } from "./hooks";

const w = words.instruments;
/** In the order in which they are used; the unit of a step and of the range, and the prefix on the display. */
const units: Record<InstrumentName, [string, number]> = {
  low_resistance: ["Ω", 0], insulation: ["MΩ", 0], loop: ["Ω", 0], fault_current: ["A", 0], earth_resistance: ["Ω", 0], rcd_time: ["ms", -3], rcd_current: ["mA", -3], voltage: ["V", 0], current: ["A", 0],
};
export const instrumentNames = Object.keys(units) as InstrumentName[];
const leads: readonly InstrumentName[] = ["low_resistance", "loop", "earth_resistance"];

export function InstrumentsView() {
  return (
    <div class="sheet">
      <h1 id="here" tabIndex={-1}>{w.title}</h1>
      <p class="hint">{w.hint}</p>
      <div class="grid"><NumberField label={w.ambient} hint={w.ambientHint} path={["testing", "ambient"]} unit="°C" open /></div>
      <section aria-labelledby="meters">
        <h2 id="meters">{w.each}</h2>
        {instrumentNames.map((name) => <InstrumentFold key={name} name={name} />)}
      </section>
      <p><a class="act" href="#/readings">{words.meter.toWhole}</a></p>
    </div>
  );
}

export function instrumentLine(testing: Testing | null, name: InstrumentName): string {
  const held = testing?.instruments[name] ?? null;
  if (held === null) {
    const rule = offered.value.instruments[name];
    return rule ? w.asStandard(`±${showNumber(rule.share, -2)}\u00a0%`) : w.unknown;
  }
  return w.line(held.share === null ? "?" : `${showNumber(held.share, -2)}\u00a0%`, held.digits === null ? "?" : showNumber(held.digits));
}

function InstrumentFold({ name }: { name: InstrumentName }) {
  const path: Path = ["testing", "instruments", name];
  const [unit, shift] = units[name];
  const summary = useReading(() => instrumentLine(job.value.testing, name)).value;
  const rule = offered.value.instruments[name];
  return (
    <Fold name={`instrument-${name}`} title={w.names[name]} summary={summary} covers={[path]}>
      {rule && <p class="field-wide">{w.standard}: {rule.text} <Standing of={rule.standing} /> <span class="step-source">{rule.source}</span></p>}
      <Optional label={w.own} path={path} start={fresh.instrument}>
        <NumberField label={w.share} path={[...path, "share"]} unit="%" shift={-2} />
        <NumberField label={w.digits} path={[...path, "digits"]} />
        <NumberField label={w.resolution} path={[...path, "resolution"]} unit={unit} shift={shift} />
        {leads.includes(name) && <NumberField label={w.lead} hint={w.leadHint} path={[...path, "lead"]} unit="Ω" />}
        <NumberField label={w.from} path={[...path, "from"]} unit={unit} shift={shift} />
        <NumberField label={w.to} path={[...path, "to"]} unit={unit} shift={shift} open />
      </Optional>
    </Fold>
  );
}

