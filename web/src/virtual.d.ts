declare module "virtual:rows" {
  const packed: import("./evidence").Packed;
  export default packed;
}
