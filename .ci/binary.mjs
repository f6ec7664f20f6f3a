// WebAssembly's binary format as far as a build is looked into and changed
// (webassembly.github.io/spec, chapter 5). Invariant: what is not understood is an error.

/// A number as the format writes it, low bits first.
export const leb = (value) => {
  const bytes = [];
  for (; value > 127; value = Math.floor(value / 128)) bytes.push((value % 128) + 128);
  return Buffer.from([...bytes, value]);
};

/// A name as the format writes it.
export const text = (name) => Buffer.concat([leb(Buffer.byteLength(name)), Buffer.from(name)]);

/// Reads from `bytes`, from their beginning.
export const reader = (bytes) => {
  let at = 0;
  const number = () => {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = bytes[at++];
      if (byte === undefined) throw new Error("the wasm is cut off");
      value += (byte & 127) * 2 ** shift;
      if (byte < 128) return value;
    }
  };
  const take = (length) => bytes.subarray(at, (at += length));
  const limits = () => {
    if (number() & 1) number();
    number();
  };
  /// What follows an import's names, to its end; the first byte is its kind.
  const described = () => {
    const from = at;
    const kind = number();
    if (kind === 0) number();
    else if (kind === 1) {
      number();
      limits();
    } else if (kind === 2) limits();
    else if (kind === 3) take(2);
    else throw new Error(`an import of kind ${kind}`);
    return bytes.subarray(from, at);
  };
  return { number, take, described, name: () => take(number()).toString(), more: () => at < bytes.length };
};

/// The sections of a module, after its first eight bytes.
export const sections = (wasm) => {
  const read = reader(wasm);
  read.take(8);
  const found = [];
  while (read.more()) {
    const id = read.number();
    found.push({ id, content: read.take(read.number()) });
  }
  return found;
};
