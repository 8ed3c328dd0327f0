declare module "virtual:rows" {
  const packed: import("./evidence").Packed;
  export default packed;
}

// The parts of words/en.ts, or of the language the page is built in.
declare module "words:page" {
  export const words: typeof import("../words/en").page;
}
declare module "words:pictures" {
  export const words: typeof import("../words/en").pictures;
}
declare module "words:lesson" {
  export const words: typeof import("../words/en").lesson;
}
declare module "words:table" {
  export const words: typeof import("../words/en").table;
}
/** What the core says, by its codes. */
declare module "words:core" {
  export const words: import("./catalogue").Catalogue;
}
