// Reads the picture of a plan: a header in JSON and arrays, as docs/view.md describes.

const MAGIC = "axleview";
const VERSION = 1;
const KINDS = {
  uint8: Uint8Array, int8: Int8Array, uint16: Uint16Array, int32: Int32Array, uint32: Uint32Array, float32: Float32Array,
};

/** Fetches and reads a picture; throws an Error with words for people where that fails. */
export async function fetchPicture(address) {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error("The shop's computer has no picture of this plan.");
  return read(await inflated(await answer.arrayBuffer()));
}

// The shop sends it as gzip content, which the browser undoes; a file that was saved may still be packed.
async function inflated(buffer) {
  const start = new Uint8Array(buffer, 0, 2);
  if (start[0] !== 0x1f || start[1] !== 0x8b) return buffer;
  return new Response(new Blob([buffer]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
}

/** The picture in a buffer. */
export function read(buffer) {
  const text = new TextDecoder();
  const [version, length] = new Uint32Array(buffer, 8, 2);
  if (text.decode(new Uint8Array(buffer, 0, 8)) !== MAGIC || version !== VERSION) {
    throw new Error("This picture was made by another version. Make the plan again.");
  }
  const header = JSON.parse(text.decode(new Uint8Array(buffer, 16, length)));
  const arrays = {};
  for (const [name, { type, shape, at }] of Object.entries(header.arrays)) {
    const count = shape.reduce((product, size) => product * size, 1);
    arrays[name] = new KINDS[type](buffer, 16 + length + at, count);
  }
  return {
    ...header,
    ...arrays,
    places: inMetres(arrays.places, header.place),
    beadPoints: inMetres(arrays.bead_points, header.place),
    beadOutward: Float32Array.from(arrays.bead_outward, (value) => value / 127),
    tackPoints: inMetres(arrays.tack_points, header.place),
    tackOutward: Float32Array.from(arrays.tack_outward, (value) => value / 127),
    moments: arrays.time.length,
    nodes: arrays.places.length / 3,
  };
}

function inMetres(steps, { from_m: from, step_m: step }) {
  return Float32Array.from(steps, (value, n) => from[n % 3] + value * step[n % 3]);
}
