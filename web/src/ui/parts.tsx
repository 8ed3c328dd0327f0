// Groups of entries that occur at several places.

import { useError, useValue } from "./hooks";
import { fresh } from "../job/fresh";
import type { Path } from "../job/path";
import { edit, offered } from "../state";
import { words } from "words:page";
import { ChoiceField, fieldId, NumberField, Optional, StepField, Switch, YesNo } from "./fields";

export function DeviceFields({ path }: { path: Path }) {
  const family = useValue([...path, "family"]) as string | undefined;
  const energyClass = useValue([...path, "energy_class"]);
  const energyError = useError([...path, "energy_class"]);
  const marked = family !== undefined && /^(breaker|rcbo)-/.test(family);
  return (
    <>
      <ChoiceField label={words.circuit.device} path={[...path, "family"]} group="family" />
      <StepField label={words.circuit.rating} path={[...path, "rating"]} unit="A" values={offered.value.ratings[family ?? ""] ?? []} />
      <NumberField label={words.circuit.breaking} path={[...path, "breaking"]} unit="kA" shift={3} open />
      <NumberField label={words.circuit.letThrough} path={[...path, "let_through"]} unit="A²s" open />
      {(marked || energyClass !== null) && (
        <Switch id={fieldId([...path, "energy_class"])} label={words.circuit.energyClass} on={energyClass !== null}
          error={energyError} onFlip={(on) => edit([...path, "energy_class"], on ? 3 : null)} />
      )}
    </>
  );
}

export function RcdFields({ path, label }: { path: Path; label: string }) {
  return (
    <Optional label={label} path={path} start={fresh.rcd}>
      <StepField label={words.circuit.sensitivity} path={[...path, "sensitivity"]} unit="mA" shift={-3} values={offered.value.sensitivities} />
      <ChoiceField label={words.circuit.kind} path={[...path, "kind"]} group="rcd" />
      <ChoiceField label={words.circuit.delay} path={[...path, "delay"]} group="delay" />
    </Optional>
  );
}

export function ConductorFields({ path, material }: { path: Path; material: string }) {
  const metal = useValue([...path, "material"]);
  const sizes = offered.value.csa;
  return (
    <>
      <ChoiceField label={material} path={[...path, "material"]} group="material" />
      <StepField label={words.form.size} path={[...path, "csa"]} unit="mm²" values={metal === "aluminium" ? sizes.aluminium : sizes.copper} />
    </>
  );
}

export function EarthingConductorFields({ path }: { path: Path }) {
  return (
    <Optional label={words.supply.earthingConductor} path={path}
      start={() => ({ material: "copper", csa: null, buried: false, mechanical: true, corrosion: true })}>
      <ConductorFields path={path} material={words.section.material} />
      <YesNo label={words.supply.buried} path={[...path, "buried"]} />
      <YesNo label={words.supply.mechanical} path={[...path, "mechanical"]} />
      <YesNo label={words.supply.corrosion} path={[...path, "corrosion"]} />
    </Optional>
  );
}

export function BondingFields({ path }: { path: Path }) {
  return (
    <Optional label={words.supply.bonding} path={path} start={() => ({ material: "copper", csa: null })}>
      <ConductorFields path={path} material={words.section.material} />
    </Optional>
  );
}
