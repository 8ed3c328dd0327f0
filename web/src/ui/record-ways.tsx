// The ways of earthing a far board in the record: side by side, and which of them the job has.

import type { ComponentChildren } from "preact";
import { checkOf, isTaken, outcomeOf, waysOf, type Missing, type Side, type Ways } from "../earthing";
import type { Board, Finding, Job } from "../job/types";
import { words } from "words:page";
import { rcdText } from "./earthing";
import { withUnit } from "./found";
import { useLater } from "./hooks";
import { Stamp } from "./stamp";

const w = words.ways_of_earthing;
const r = words.record.ways;

/** What is compared: boards further on of whose site something is said. */
export const isCompared = ({ site, fed_by: fed }: Board) => site !== null && fed !== null;

/** Null where the job can't be read. */
export function comparedIn(of: Job): { board: string; ways: Ways }[] | null {
  try {
    return of.boards.filter(isCompared).map(({ id }) => ({ board: id, ways: waysOf(of, id) }));
  } catch (reason) {
    console.error(reason);
    return null;
  }
}

export function WaysPart({ of, board, name }: { of: Job; board: Board; name: string }) {
  const ways = useLater(() => waysOf(of, board.id));
  if (ways === undefined) return <p>{w.comparing}</p>;
  const title = `${r.title}: ${name}`;
  if (ways?.error !== null) return <p><b>{title}</b> <Stamp outcome="cannot-say" /> {w.unable}</p>;
  const many = ways.judgements.length > 1;
  return (
    <>
      {ways.judgements.map(({ earthing, sides }, at) => (
        <Table key={earthing} of={of} ways={ways} sides={sides} last={at === ways.judgements.length - 1}
          title={many ? `${title}. ${words.ifEarthing(words.earthing[earthing])}` : title} />
      ))}
    </>
  );
}

function Table({ of, ways, sides, title, last }: { of: Job; ways: Ways; sides: readonly Side[]; title: string; last: boolean }) {
  const rows: [name: string, of: (side: Side) => ComponentChildren][] = [
    [words.record.heads.outcome, (side) => <Verdict side={side} />],
    [r.decides, (side) => checkOf(side) || null],
    [r.taken, (side) => (isTaken(of, side) ? <b class="way-is">{r.isTaken}</b> : r.notTaken)],
    [w.rcd, rcdSaid],
    [w.disconnection, (side) => said(side.disconnection, w.noCircuits)],
    [w.touch, (side) => said(side.touch, side.scheme === "own-electrode" ? w.noTouchRcd : w.noTouch)],
    [r.electrode, (side) => electrodeSaid(ways, side)],
    [w.bonding, (side) => (side.bondingNeeded === "" ? list(side.bondingMissing, w.noBonding) : `${w.atLeast} ${side.bondingNeeded} ${w.copper}`)],
    [w.armour, (side) => w.armours[side.armour]],
    [w.lost, (side) => lostSaid(side, ways.limit)],
    [r.read, (side) => side.grave.join(" ") || null],
  ];
  return (
    <div class="paper-scroll ways-paper" role="region" aria-label={title} tabIndex={0}>
      <table class="paper-table ways-table">
        <caption>{title}</caption>
        <thead><tr><td />{sides.map(({ scheme }) => <th key={scheme} scope="col">{w.name[scheme]}</th>)}</tr></thead>
        <tbody>
          {rows.map(([name, make]) => {
            const cells = sides.map((side) => ({ scheme: side.scheme, text: make(side) }));
            return cells.some(({ text }) => text !== null) && (
              <tr key={name}><th scope="row">{name}</th>{cells.map(({ scheme, text }) => <td key={scheme}>{text ?? "\u2013"}</td>)}</tr>
            );
          })}
        </tbody>
      </table>
      {last && ways.situations.map(({ name, stance, stanceText }) => <p key={name}>{name}: <b>{w.situations[stance]}</b>. {stanceText}</p>)}
    </div>
  );
}

/** With the RCD the way needs, and with what is fitted where that is another; of the feed where it does not pass. */
function Verdict({ side }: { side: Side }) {
  const needs = side.rcd.need === "this";
  return (
    <>
      <Stamp outcome={outcomeOf(side)} /> {needs ? w.withRcd : w.asFitted}
      {needs && side.outcome !== outcomeOf(side) && <small>{w.now}: <Stamp outcome={side.outcome} />{side.check !== "" && ` ${side.check}`}</small>}
      {side.feed !== "pass" && <small>{w.feed}: <Stamp outcome={side.feed} /></small>}
    </>
  );
}

const list = (all: readonly Missing[], none: string) => (all.length === 0 ? none : `${words.found.lacking}: ${all.map(({ text }) => text).join(" ")}`);

function said(of: Finding | null, none: string): ComponentChildren {
  if (of === null) return none;
  const limit = of.limit === null ? "" : (of.sense === "at-most" ? words.record.upTo : words.record.atLeast)(withUnit(of.shown_limit, of.unit));
  const figures = [of.value === null ? "" : withUnit(of.shown_value, of.unit), limit].filter((text) => text !== "").join(" ");
  return <>{figures} {of.outcome !== "pass" && <Stamp outcome={of.outcome} />}{of.lacking.length > 0 && <small>{list(of.lacking, "")}</small>}</>;
}

function rcdSaid({ rcd }: Side): ComponentChildren {
  if (rcd.need === "this" && rcd.rcd) return rcdText(rcd.rcd);
  if (rcd.need === "not-known") return list(rcd.missing, w.noCircuits);
  return rcd.need === "none" ? w.noRcd : w.noneServes;
}

function electrodeSaid(ways: Ways, side: Side): ComponentChildren {
  if (side.scheme === "extend-supply") return null;
  const has = ways.electrode === "" ? r.electrodeOpen : `${ways.electrode} (${w.from[ways.electrodeFrom ?? "entered"]})`;
  const sought = side.scheme !== "own-electrode" ? "" : side.sought ? `${w.sought}: ${w.atMost} ${side.sought.ra} ${w.soughtWith(rcdText(side.sought.rcd))}` : w.noSought;
  return <>{has}{sought !== "" && <small>{sought}</small>}{ways.electrode !== "" && side.stable !== true && <small>{w.notStable}</small>}</>;
}

function lostSaid({ lost }: Side, limit: string): string {
  if (lost.lost === "not-joined") return w.notJoined;
  if (lost.missing.length > 0 || lost.lost === "not-known") return [w.lostNotKnown, ...lost.missing.map(({ text }) => text)].join(" ");
  const volts = lost.low === lost.high ? lost.high : w.range(lost.low, lost.high);
  if (lost.lost === "apart") return `${w.between} ${volts}`;
  const sought = { "at-most": w.lostSought(limit, lost.soughtRa), impossible: w.lostImpossible(limit), none: w.lostBelow(limit) };
  return [`${w.onMetal} ${volts}.`, lost.sought === null ? "" : sought[lost.sought]].filter((text) => text !== "").join(" ");
}
