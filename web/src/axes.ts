// Scales of the pictures: from a value to a place on the paper and nothing else.

export type Scale = (value: number) => number;

/** Even steps of ten. */
export function logScale(from: number, to: number, start: number, end: number): Scale {
  const low = Math.log10(from);
  const span = Math.log10(to) - low;
  return (value) => start + ((Math.log10(value) - low) / span) * (end - start);
}

export function linear(from: number, to: number, start: number, end: number): Scale {
  return (value) => start + ((value - from) / (to - from)) * (end - start);
}

/** 1, 2 and 5 times each power of ten within the range; `bold` at the powers. */
export function decades(from: number, to: number): { value: number; bold: boolean }[] {
  const ticks: { value: number; bold: boolean }[] = [];
  for (let power = Math.floor(Math.log10(from)); power <= Math.ceil(Math.log10(to)); power += 1) {
    for (const times of [1, 2, 5]) {
      const value = Number(`${times}e${power}`);
      if (value >= from && value <= to) ticks.push({ value, bold: times === 1 });
    }
  }
  return ticks;
}

/** Round steps, at most so many. */
export function steps(to: number, most: number): number[] {
  if (!(to > 0)) return [0];
  let step = 10 ** Math.floor(Math.log10(to / most));
  for (const times of [2, 2.5, 2]) if (to / step > most) step *= times;
  const count = Math.floor(to / step + 1e-9);
  return Array.from({ length: count + 1 }, (_, n) => Number((n * step).toPrecision(6)));
}

export function path(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], index) => `${index === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
}
