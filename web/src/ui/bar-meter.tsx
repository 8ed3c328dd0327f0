// The bar at the meter: how far the testing is, the next test, and what was read, aloud.

import { useComputed } from "@preact/signals";
import { lastRead, waysOf } from "../answers";
import { placeKey } from "../job/tree";
import type { Place } from "../job/types";
import { view } from "../route";
import { isThrough, mayEnergise, nextOf, stations } from "../tested";
import { words } from "words:page";
import { wholeStanding } from "./glance";
import { useReading } from "./hooks";
import { Mark } from "./marks";
import { toStation } from "./meter";

/** How far the testing is, and the next test at all times. */
export function BarReadings() {
  const whole = useReading(wholeStanding).value;
  const next = useReading(() => {
    const at = view.value;
    if (at.view !== "meter") return null;
    const ways = waysOf(at.place);
    const found = nextOf(ways);
    if (found?.kind === "test") return { name: words.meter.steps[found.step], place: at.place, step: found.step };
    return { name: isThrough(ways) ? words.meter.complete : mayEnergise(ways) ? words.meter.energise : words.meter.keepOff, place: at.place, step: null };
  }).value;
  const may = whole.may || whole.through;
  return (
    <>
      <a class="bar-said" href="#/readings" aria-current={view.value.view === "readings" ? "page" : undefined}>
        <Mark outcome={whole.through ? "pass" : may ? "cannot-say" : "fail"} size={26} />
        <span><small>{words.whole.title}</small>{" "}<b>{whole.through ? words.meter.complete : may ? words.meter.mayShort : words.meter.keepOffShort}</b></span>
      </a>
      {next && (
        <button type="button" class="bar-said bar-here bar-next" onClick={() => (next.step === null ? document.getElementById("next")?.scrollIntoView({ block: "center" }) : toStation(next.place, next.step))}>
          <span><small>{words.meter.nextShort}</small>{" "}<b>{next.name}</b></span>
        </button>
      )}
    </>
  );
}

export function SpokenReadings() {
  const text = useComputed(() => ("place" in view.value ? spokenReading(view.value.place) : ""));
  return <>{text}</>;
}

/** The reading that was just entered, whether it may be energised, and what comes next. */
function spokenReading(place: Place): string {
  const m = words.meter;
  const ways = waysOf(place);
  const last = lastRead.value;
  const parts: string[] = [];
  if (last && placeKey(last.place) === placeKey(place)) {
    for (const { readings } of stations(ways)) {
      for (const { path, each } of readings) {
        if (path !== last.path && !last.path.startsWith(`${path}.`)) continue;
        for (const { earthing, judged } of each) {
          if (judged.taken) parts.push(m.spoken(each.length > 1 ? `${judged.name}, ${earthing}` : judged.name, m.outcome[judged.outcome]));
        }
      }
    }
  }
  const next = nextOf(ways);
  parts.push(`${isThrough(ways) ? m.complete : mayEnergise(ways) ? m.energise : m.keepOff}.`);
  if (next?.kind === "test") parts.push(m.spokenNext(next.name));
  return parts.join(" ");
}
