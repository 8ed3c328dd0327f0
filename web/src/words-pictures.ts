// The words of the pictures, part of the catalogue in `words.ts`: they come with the pictures' own file.

export const words = {
  drawing: {
    hint: "From the supply downwards. Every line of it is a way to that place.",
    table: "The same as a table",
    place: "Place",
    fedFrom: "Fed from",
    gear: "Protected by",
    verdict: "Verdict",
    origin: "the distributor",
    loose: "nothing",
    legend: "Signs used",
    signs: {
      fuse: "fuse", breaker: "circuit-breaker", rcd: "RCD, or the RCD part of an RCBO", three: "three phases", earth: "electrode of its own",
      sockets: "socket-outlets", lamp: "lighting", motor: "motor", heater: "heating", load: "other load", bus: "busbar of a board",
    },
  },
};
