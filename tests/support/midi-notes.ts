/** Notes that a standard MIDI file sounds: MIDI numbers struck with a velocity above 0, sorted. */
export function soundingNotes(base64: string): readonly number[] {
  const bytes = Buffer.from(base64, "base64");
  const found: number[] = [];
  let at = 8 + bytes.readUInt32BE(4);
  while (at + 8 <= bytes.length) {
    const end = at + 8 + bytes.readUInt32BE(at + 4);
    if (bytes.toString("latin1", at, at + 4) === "MTrk") collect(bytes.subarray(at + 8, end), found);
    at = end;
  }
  return found.sort((one, other) => one - other);
}

function collect(track: Buffer, found: number[]): void {
  let [at, running] = [0, 0];
  const number = () => {
    let value = 0;
    for (;;) {
      const byte = track[at++] ?? 0;
      value = value * 128 + (byte & 127);
      if (byte < 128) return value;
    }
  };
  while (at < track.length) {
    number();
    const status = (track[at] ?? 0) >= 128 ? (track[at++] ?? 0) : running;
    if (status === 0xff || status >= 0xf0) {
      if (status === 0xff) at++;
      const length = number();
      at += length;
      continue;
    }
    running = status;
    const [first = 0, second = 0] = [track[at], track[at + 1]];
    const kind = status >> 4;
    at += kind === 0xc || kind === 0xd ? 1 : 2;
    if (kind === 9 && second > 0) found.push(first);
  }
}
