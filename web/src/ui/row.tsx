// One place in a line: its verdict, its name and the numbers that grow along the path.

import { Fragment } from "preact";
import { nameOf } from "../job/edit";
import { placeKey } from "../job/tree";
import type { Job, Place } from "../job/types";
import { hrefOf } from "../route";
import { answer, errorsByPath, job, places } from "../state";
import { verdictOf, type Verdict } from "../verdict";
import { words } from "words:page";
import { withUnit } from "./found";
import { useReading } from "./hooks";
import { Mark } from "./marks";
import { deviceLine, earthingOf } from "./summary";

/** What is told of a place in passing, most telling first. */
const telling = {
  supply: ["ze", "zs", "ipf-max"],
  board: ["zs", "drop-share", "ipf-max", "demand"],
  circuit: ["zs", "drop-share"],
};

export function tellFacts(place: Place, judgement: number): { symbol: string; shown: string }[] {
  const found = places.value[judgement]?.get(placeKey(place));
  return telling[place.kind]
    .flatMap((wanted) => found?.facts.filter(({ fact, value }) => fact === wanted && value !== null) ?? [])
    .map(({ symbol, shown, unit }) => ({ symbol, shown: withUnit(shown, unit) }));
}

export type Told = { name: string; what: string; verdicts: { outcome: Verdict; earthing: string }[]; facts: { symbol: string; shown: string }[][] };

export function tell(of: Job, place: Place): Told {
  const key = placeKey(place);
  const circuit = place.kind === "circuit" ? of.circuits.find(({ id }) => id === place.id) : undefined;
  const what = place.kind === "supply" ? earthingOf(of) : circuit ? deviceLine(circuit.device) : "";
  const found = places.value.map((all) => all.get(key));
  const prefix = place.kind === "supply" ? "supply." : `${place.kind}s[${(place.kind === "board" ? of.boards : of.circuits).findIndex(({ id }) => id === place.id)}]`;
  const refused = [...errorsByPath.value.keys()].some((path) => path.startsWith(prefix));
  const name = nameOf(of, place);
  return {
    name: place.kind === "supply" ? words.place.supply : name === "" ? words.place.unnamed : name,
    what: refused ? words.found.errors : what,
    verdicts: answer.value.judgements.map(({ earthing }, at) => ({ earthing: words.earthing[earthing], outcome: verdictOf(found[at]) })),
    facts: found.map((_, at) => tellFacts(place, at)),
  };
}

export function Row({ place, fedFrom = null }: { place: Place; fedFrom?: string | null }) {
  const { name, what, verdicts, facts } = useReading(() => tell(job.value, place)).value;
  const single = verdicts.length <= 1;
  return (
    <a class="row" href={hrefOf(place)}>
      <span class="row-marks">
        {verdicts.length === 0 && <Mark outcome="cannot-say" />}
        {verdicts.map(({ outcome, earthing }) => <Mark key={earthing} outcome={outcome} />)}
      </span>
      <span class="row-words">
        <span class="row-name">{name}</span>{" "}
        {what !== "" && <span class="row-what">{what}</span>}{" "}
        {fedFrom !== null && <span class="row-what">{words.place.fedFrom(fedFrom)}</span>}
      </span>
      {" "}
      <span class="row-said">
        {verdicts.length === 0 && <b>{words.outcome["cannot-say"]}</b>}
        {verdicts.map(({ outcome, earthing }) => (
          <Fragment key={earthing}><b class={`said-${outcome}`}>{!single && `${earthing}: `}{words.outcome[outcome]}</b>{" "}</Fragment>
        ))}
        {single && facts[0] && facts[0].length > 0 && (
          <span class="row-facts">{facts[0].slice(0, 2).map(({ symbol, shown }) => <span key={symbol} class="row-fact">{symbol} {shown} </span>)}</span>
        )}
      </span>
    </a>
  );
}
