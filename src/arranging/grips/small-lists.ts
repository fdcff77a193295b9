/** A list with one more at its end. Written out: asked for thousands of times a tune, of a few each, which `concat` is slow at. */
export function withOneMore<One>(list: readonly One[], last: One): readonly One[] {
  const more = new Array<One>(list.length + 1);
  for (let index = 0; index < list.length; index += 1) more[index] = list[index] as One;
  more[list.length] = last;
  return more;
}

/** Some of a list, by place. */
export function picked<One>(list: readonly One[], places: readonly number[]): readonly One[] {
  const some = new Array<One>(places.length);
  for (let index = 0; index < places.length; index += 1) some[index] = list[places[index] ?? 0] as One;
  return some;
}
