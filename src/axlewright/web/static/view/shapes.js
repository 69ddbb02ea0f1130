// The geometries of the picture: skin, pieces of line, and marks.

import { BufferAttribute, BufferGeometry } from "../vendor/three.min.js";

/** Room above the root of a fillet at which its bead is drawn [m]. */
const ABOVE = 0.003;

/** The skin; a node on an edge has a corner for each side, so that edges stay sharp. */
export function skinGeometry(picture) {
  const { corner_node: nodeOf, faces, places } = picture;
  const corners = new Float32Array(3 * nodeOf.length);
  nodeOf.forEach((node, n) => corners.set(places.subarray(3 * node, 3 * node + 3), 3 * n));
  const geometry = new BufferGeometry();
  const triangles = halved(faces);
  geometry.setAttribute("position", new BufferAttribute(corners, 3));
  geometry.setAttribute("normal", new BufferAttribute(normals(corners, triangles), 3));
  for (const name of ["heatBefore", "heatAfter"]) {
    geometry.setAttribute(name, new BufferAttribute(new Float32Array(nodeOf.length), 1));
  }
  geometry.setIndex(new BufferAttribute(triangles, 1));
  return geometry;
}

/** Two triangles for each face of four corners. */
function halved(faces) {
  const triangles = new Uint32Array(faces.length * 1.5);
  for (let f = 0, t = 0; f < faces.length; f += 4, t += 6) {
    triangles.set([faces[f], faces[f + 1], faces[f + 2], faces[f], faces[f + 2], faces[f + 3]], t);
  }
  return triangles;
}

// Outward by the right hand in (x, y, z), which three.js would take for a right-handed frame and ours is not: it does
// not matter, as both normals and winding go through the same matrix.
function normals(places, triangles) {
  const sums = new Float32Array(places.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const [ux, uy, uz] = [0, 1, 2].map((i) => places[b + i] - places[a + i]);
    const [vx, vy, vz] = [0, 1, 2].map((i) => places[c + i] - places[a + i]);
    const normal = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    for (const corner of [a, b, c]) for (let i = 0; i < 3; i += 1) sums[corner + i] += normal[i];
  }
  for (let n = 0; n < sums.length; n += 3) {
    const size = Math.hypot(sums[n], sums[n + 1], sums[n + 2]) || 1;
    for (let i = 0; i < 3; i += 1) sums[n + i] /= size;
  }
  return sums;
}

// Every piece and mark is a rectangle of its own. Drawing one rectangle many times over (instancing) would need less room,
// but without a graphics card it takes three times as long.
function rectangles(count, corners) {
  const geometry = new BufferGeometry();
  const index = new Uint32Array(6 * count);
  for (let n = 0; n < count; n += 1) index.set([0, 1, 2, 2, 1, 3].map((corner) => 4 * n + corner), 6 * n);
  geometry.setIndex(new BufferAttribute(index, 1));
  four(geometry, "corner", Array.from({ length: count }, () => corners).flat(), 2, 1);
  return geometry;
}

// The same values for each of the four corners of a rectangle, or `copies` of them.
function four(geometry, name, values, width, copies = 4) {
  const array = new Float32Array(values.length * copies);
  for (let n = 0; n < array.length / width; n += 1) {
    for (let i = 0; i < width; i += 1) array[n * width + i] = values[Math.floor(n / copies) * width + i];
  }
  geometry.setAttribute(name, new BufferAttribute(array, width));
}

/** Room for so many pieces of line, each between two places. */
export class Pieces {
  constructor(count) {
    this.geometry = rectangles(count, [-1, 0, 1, 0, -1, 1, 1, 1]);
    for (const name of ["from", "to"]) four(this.geometry, name, new Float32Array(3 * count), 3);
    // three.js wants a position; the shader goes by both ends.
    this.geometry.setAttribute("position", this.geometry.getAttribute("from"));
  }

  /** Draws pieces between pairs of places, given by their numbers. */
  set(places, pairs, count = pairs.length) {
    for (const [name, end] of [["from", 0], ["to", 1]]) {
      const attribute = this.geometry.getAttribute(name);
      for (let n = end, at = 0; n < count; n += 2) {
        const place = 3 * pairs[n];
        for (let copy = 0; copy < 4; copy += 1, at += 3) {
          attribute.array[at] = places[place];
          attribute.array[at + 1] = places[place + 1];
          attribute.array[at + 2] = places[place + 2];
        }
      }
      attribute.needsUpdate = true;
    }
    this.geometry.setDrawRange(0, 3 * count);
  }
}

/** Place of a bead's point in front of the fillet's root. */
export function lifted(points, outward, n) {
  return [0, 1, 2].map((i) => points[3 * n + i] + ABOVE * outward[3 * n + i]);
}

/** Points of all beads in front of their fillets, the pairs between which pieces are drawn, and the pieces themselves. */
export function beadPieces({ bead_first: first, beadPoints, beadOutward }) {
  const [pairs, bead] = [[], []];
  for (let b = 0; b + 1 < first.length; b += 1) {
    for (let n = first[b]; n + 1 < first[b + 1]; n += 1) {
      pairs.push(n, n + 1);
      bead.push(b, (n - first[b] + 0.5) / (first[b + 1] - first[b] - 1));
    }
  }
  const pieces = new Pieces(pairs.length / 2);
  four(pieces.geometry, "bead", bead, 2);
  const points = Array.from({ length: beadPoints.length / 3 }, (_, n) => lifted(beadPoints, beadOutward, n)).flat();
  return { points: Float32Array.from(points), pairs, pieces };
}

/** Tacks as marks, and where they are, four times over. */
export function tackMarks({ tacks, tackPoints, tackOutward, tack_load: load }) {
  const geometry = rectangles(tacks.length, [-1, -1, 1, -1, -1, 1, 1, 1]);
  four(geometry, "position", tacks.flatMap((_, n) => lifted(tackPoints, tackOutward, n)), 3);
  four(geometry, "outward", tackOutward, 3);
  four(geometry, "kind", tacks.map(({ largest }) => (largest > load.beyond ? 2 : largest >= load.near ? 1 : 0)), 1);
  four(geometry, "loaded", tacks.map(() => 0), 1);
  four(geometry, "melted", tacks.map((tack) => tack.melted_by), 1);
  return { geometry, places: geometry.getAttribute("position").array.slice() };
}
