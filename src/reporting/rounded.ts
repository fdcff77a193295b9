/** To a thousandth: finer than any hand, and the same text on every machine. */
export const rounded = (value: number): number => Math.round(value * 1000) / 1000;
