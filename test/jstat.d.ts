// The package ships no types; only what the checks use.
declare module 'jstat' {
  const jstat: { readonly studentt: { inv(p: number, degreesOfFreedom: number): number } };
  export default jstat;
}
