// The national choices a job is judged by, and a copy of them that can be changed.

import type { Path } from "../job/path";
import type { Allowance, LoadClass, Profile } from "../job/types";
import { edit, job, offered } from "../state";
import { words } from "words:page";
import { ChoiceField, Choosing, nameIn, NumberField, TextField } from "./fields";
import { Fold } from "./fold";
import { useReading } from "./hooks";
import { showNumber } from "../job/number";

const w = words.rules;
type Shown = { key: Exclude<keyof Profile, "name" | "diversity" | "drop_basis">; label: string; unit?: string; shift?: number };
const groups: { title: string; entries: Shown[] }[] = [
  { title: w.voltage, entries: [{ key: "cmin", label: w.cmin }, { key: "cmax", label: w.cmax }] },
  { title: w.drop, entries: [
    { key: "drop_lighting", label: w.dropLighting, unit: "%", shift: -2 },
    { key: "drop_other", label: w.dropOther, unit: "%", shift: -2 },
  ] },
  { title: w.touch, entries: [
    { key: "touch_voltage", label: w.touchVoltage, unit: "V" },
    { key: "source_electrode", label: w.sourceElectrode, unit: "Ω" },
  ] },
];
const units: Record<keyof Allowance, [string | undefined, number]> = {
  first_amps: ["A", 0], first: ["%", -2], rest: ["%", -2], add: ["A", 0], largest: ["%", -2], second: ["%", -2], others: ["%", -2],
};

export function RulesView() {
  const chosen = useReading(() => (typeof job.value.profile === "string" ? job.value.profile : "own")).value;
  const profile = useReading<Profile>(() => {
    const { profile: held } = job.value;
    return typeof held === "string" ? offered.value.profiles[held] : held;
  }).value;
  const own = chosen === "own";
  const copy = () => edit(["profile"], { ...structuredClone(profile), name: w.ownName(profile.name) });
  return (
    <div class="sheet">
      <h1 id="here" tabIndex={-1}>{w.title}</h1>
      <p class="hint">{w.hint}</p>
      <Choosing id="f-profile" label={w.which} value={chosen} error={null}
        options={[
          ...(["uk", "iec"] as const).map((value) => ({ value: value, text: offered.value.profiles[value].name })),
          ...(own ? [{ value: "own", text: w.own }] : []),
        ]}
        onPick={(picked) => picked !== "own" && edit(["profile"], picked)} />
      {!own && <div class="acts"><button type="button" class="act act-main" onClick={copy}>{w.makeOwn}</button></div>}
      {own && <div class="grid"><TextField label={w.name} path={["profile", "name"]} /></div>}
      {groups.map(({ title, entries }) => (
        <section key={title}>
          <h2>{title}</h2>
          {own ? (
            <div class="grid">
              {entries.map(({ key, label, unit, shift = 0 }) => (
                <NumberField key={key} label={label} path={["profile", key]} shift={shift} {...(unit === undefined ? {} : { unit })} />
              ))}
              {title === w.drop && <ChoiceField label={w.dropBasis} path={["profile", "drop_basis"]} group="drop_basis" />}
            </div>
          ) : (
            <dl class="limits">
              {entries.map(({ key, label, unit, shift = 0 }) => (
                <div key={key}><dt>{label}</dt><dd>{showNumber(profile[key], shift)}{unit === undefined ? "" : `\u00a0${unit}`}</dd></div>
              ))}
              {title === w.drop && <div><dt>{w.dropBasis}</dt><dd>{nameIn("drop_basis", profile.drop_basis)}</dd></div>}
            </dl>
          )}
        </section>
      ))}
      <section>
        <h2>{w.diversity}</h2>
        <p class="hint">{w.diversityHint}</p>
        {(Object.keys(profile.diversity) as LoadClass[]).map((one) => (
          <Fold key={one} name={`rule-${one}`} title={nameIn("class", one)} covers={[["profile", "diversity", one]]}>
            <AllowanceFields of={profile.diversity[one]} path={["profile", "diversity", one]} own={own} />
          </Fold>
        ))}
      </section>
    </div>
  );
}

function AllowanceFields({ of, path, own }: { of: Allowance; path: Path; own: boolean }) {
  const keys = Object.keys(units) as (keyof Allowance)[];
  if (!own) {
    return (
      <dl class="limits field-wide">
        {keys.map((key) => {
          const [unit, shift] = units[key];
          return <div key={key}><dt>{w.allowance[key]}</dt><dd>{showNumber(of[key], shift)}{unit === undefined ? "" : `\u00a0${unit}`}</dd></div>;
        })}
      </dl>
    );
  }
  return (
    <>
      {keys.map((key) => {
        const [unit, shift] = units[key];
        return <NumberField key={key} label={w.allowance[key]} path={[...path, key]} shift={shift} {...(unit === undefined ? {} : { unit })} />;
      })}
    </>
  );
}
