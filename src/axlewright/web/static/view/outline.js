// The outline: edges between a face that looks here and one that looks away.

import { Pieces } from "./shapes.js";

export class Outline {
  constructor({ faces, corner_node: nodeOf, nodes }) {
    this.faces = Uint32Array.from(faces, (corner) => nodeOf[corner]);
    const [pairs, sides] = between(this.faces, nodes);
    Object.assign(this, { pairs, sides, here: new Uint8Array(faces.length / 4) });
    this.found = new Uint32Array(pairs.length);
    this.pieces = new Pieces(Math.min(pairs.length / 2, 6000));
    this.most = 2 * Math.min(pairs.length / 2, 6000);
  }

  /** Finds the outline of bent nodes for someone who looks from a direction in the housing's own frame. */
  find(places, [dx, dy, dz]) {
    const { faces, here } = this;
    for (let f = 0, i = 0; f < here.length; f += 1, i += 4) {
      const [a, b, c, d] = [3 * faces[i], 3 * faces[i + 1], 3 * faces[i + 2], 3 * faces[i + 3]];
      const [ux, uy, uz] = [places[c] - places[a], places[c + 1] - places[a + 1], places[c + 2] - places[a + 2]];
      const [vx, vy, vz] = [places[d] - places[b], places[d + 1] - places[b + 1], places[d + 2] - places[b + 2]];
      here[f] = (uy * vz - uz * vy) * dx + (uz * vx - ux * vz) * dy + (ux * vy - uy * vx) * dz > 0 ? 1 : 0;
    }
    let count = 0;
    for (let n = 0; n < this.pairs.length && count < this.most; n += 2) {
      if (here[this.sides[n]] === here[this.sides[n + 1]]) continue;
      this.found[count] = this.pairs[n];
      this.found[count + 1] = this.pairs[n + 1];
      count += 2;
    }
    this.pieces.set(places, this.found, count);
  }
}

// Node pairs with the faces at both sides of each.
function between(faces, nodes) {
  const open = new Map();
  const [pairs, sides] = [[], []];
  for (let i = 0; i < faces.length; i += 1) {
    const [a, b] = [faces[i], faces[i % 4 === 3 ? i - 3 : i + 1]];
    const key = Math.min(a, b) * nodes + Math.max(a, b);
    const other = open.get(key);
    if (other === undefined) {
      open.set(key, i >> 2);
    } else {
      open.delete(key);
      pairs.push(a, b);
      sides.push(other, i >> 2);
    }
  }
  return [Uint32Array.from(pairs), Uint32Array.from(sides)];
}
