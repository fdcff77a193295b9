import type { Instrument } from "./instrument.js";

/** The same, worked out once for an instrument and remembered as long as that is. */
export function onceAnInstrument<Value>(
  work: (instrument: Instrument) => Value,
): (instrument: Instrument) => Value {
  const known = new WeakMap<Instrument, { readonly value: Value }>();
  return (instrument) => {
    const before = known.get(instrument);
    if (before !== undefined) return before.value;
    const value = work(instrument);
    known.set(instrument, { value });
    return value;
  };
}
