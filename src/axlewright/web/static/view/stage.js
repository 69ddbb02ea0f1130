// What is drawn: skin, outline, edges, beads and tacks, seen from wherever it is turned to. Draws only when told to.

import { Group, Mesh, OrthographicCamera, Scene, ShaderMaterial, Vector3, WebGLRenderer } from "../vendor/three.min.js";
import { Axis } from "./bending.js";
import { CIVIDIS } from "./cividis.js";
import { Outline } from "./outline.js";
import { BEADS, INK, MARKS, SKIN } from "./shaders.js";
import { beadPieces, lifted, Pieces, skinGeometry, tackMarks } from "./shapes.js";

const [FRONT_SIDE, BOTH_SIDES] = [0, 2];
const GLSL3 = "300 es";
/** Half the depth of what is drawn [m]; lines stand a little before the skin within it. */
const DEPTH = 4;
const NEARER = { rim: 0.001 / DEPTH, edges: 0.0016 / DEPTH, under: 0.0035 / DEPTH, beads: 0.006 / DEPTH, marks: 0.014 / DEPTH };

export class Stage {
  /** Throws where the browser cannot draw in three dimensions. */
  constructor(canvas, picture) {
    this.picture = picture;
    this.renderer = new WebGLRenderer({ canvas, context: this.#context(canvas) });
    this.renderer.setClearColor(0x000000, 0);
    this.camera = new OrthographicCamera(-1, 1, 1, -1, 0, 2 * DEPTH);
    this.scene = new Scene();
    this.housing = new Group();
    this.housing.matrixAutoUpdate = false;
    this.scene.add(this.housing);
    this.axis = new Axis(picture);
    this.size = [1, 1];
    this.heatAt = [-1, -1];
    this.#build();
    this.lie(0);
  }

  // Smooth edges cost a graphics card nothing; where there is none, they cost half of the time.
  #context(canvas) {
    const wanted = { alpha: true, depth: true, stencil: false, premultipliedAlpha: true };
    /** Whether edges are smoothed, which is so with a graphics card. */
    this.smooth = !withoutCard();
    const context = canvas.getContext("webgl2", { ...wanted, antialias: this.smooth });
    if (!context) throw new Error("no WebGL 2");
    return context;
  }

  #build() {
    const { picture, axis } = this;
    this.shared = { pixel: { value: [1, 1] } };
    this.nodes = axis.placed(picture.places);
    this.bentNodes = new Float32Array(picture.places.length);
    this.skin = this.#mesh(skinGeometry(picture), SKIN, {
      share: 0, range: [0, 1], paper: [1, 1, 1], coloured: true, table: CIVIDIS.flat(),
    }, { side: FRONT_SIDE });
    this.outline = new Outline(picture);
    this.rim = this.#mesh(this.outline.pieces.geometry, INK, { width: 3, ink: [0, 0, 0], nearer: NEARER.rim });
    this.edgePieces = new Pieces(picture.edges.length / 2);
    this.edges = this.#mesh(this.edgePieces.geometry, INK, { width: 1.1, ink: [0, 0, 0], nearer: NEARER.edges });
    this.#buildBeads();
    const tacks = tackMarks(picture);
    this.tackPlaces = axis.placed(tacks.places);
    this.tacks = this.#mesh(tacks.geometry, MARKS, {
      laid: 0, nearer: NEARER.marks, sizes: [7, 15, 16], ink: [0, 0, 0], paper: [1, 1, 1], heat: [1, 0, 0],
    });
  }

  #buildBeads() {
    this.beads = beadPieces(this.picture);
    this.beadPlaces = this.axis.placed(this.beads.points);
    this.bentBeads = new Float32Array(this.beads.points.length);
    const told = {
      present: 0, burnt: 0, chosen: -1, widths: [1.6, 3, 6, 3], done: [0, 0, 0], toCome: [0, 0, 0], now: [0, 0, 0],
      casing: [1, 1, 1],
    };
    const { geometry } = this.beads.pieces;
    this.under = this.#mesh(geometry, BEADS, { ...told, under: true, nearer: NEARER.under });
    this.over = this.#mesh(geometry, BEADS, { ...told, under: false, nearer: NEARER.beads });
  }

  #mesh(geometry, shader, told, more = {}) {
    const own = Object.fromEntries(Object.entries(told).map(([name, value]) => [name, { value }]));
    const material = new ShaderMaterial({
      glslVersion: GLSL3, vertexShader: shader.vertex, fragmentShader: shader.fragment,
      uniforms: { ...this.shared, ...own }, side: BOTH_SIDES, ...more,
    });
    const mesh = new Mesh(geometry, material);
    mesh.frustumCulled = false;
    mesh.renderOrder = this.housing.children.length;
    this.housing.add(mesh);
    return mesh;
  }

  /** Tells a mesh's shader something. */
  #tell(mesh, told) {
    for (const [name, value] of Object.entries(told)) mesh.material.uniforms[name].value = value;
  }

  /** Colours, as [red, green, blue] from 0 to 1. */
  colours({ paper, ink, edge, heat, done, toCome, now, casing }) {
    this.#tell(this.skin, { paper });
    this.#tell(this.rim, { ink });
    this.#tell(this.edges, { ink: edge });
    for (const mesh of [this.under, this.over]) this.#tell(mesh, { done, toCome, now, casing });
    this.#tell(this.tacks, { ink, paper, heat });
  }

  /** The codes at both ends of the colour scale, and whether the skin is coloured at all. */
  scale(range, coloured) {
    this.#tell(this.skin, { range, coloured });
  }

  /** The bead that is pointed at, by its place in the order; -1 for none. */
  choose(bead) {
    for (const mesh of [this.under, this.over]) this.#tell(mesh, { chosen: bead });
  }

  /** How the housing lies, in degrees: 90 brings the front to the top. */
  lie(degrees) {
    const turn = degrees * (Math.PI / 180);
    const [s, c] = [Math.sin(turn), Math.cos(turn)];
    // Ours is x left, y forward, z up; on the screen, seen from the front, that is right, towards the eye, up.
    this.housing.matrix.set(1, 0, 0, 0, 0, s, c, 0, 0, c, -s, 0, 0, 0, 0, 1);
    this.housing.matrixWorldNeedsUpdate = true;
  }

  /** Goes to a place between two moments; `times` is how many times as large the shape is drawn. */
  moveTo(place, times) {
    const { picture } = this;
    const before = Math.min(Math.floor(place), picture.moments - 1);
    const after = Math.min(before + 1, picture.moments - 1);
    this.#bend(place, times);
    this.#heat("heatBefore", 0, before);
    this.#heat("heatAfter", 1, after);
    const burning = after !== before && picture.doing_words[picture.doing[after]] === "arc stops";
    const laid = picture.laid[before];
    this.#tell(this.skin, { share: place - before });
    for (const mesh of [this.under, this.over]) this.#tell(mesh, { present: laid, burnt: burning ? place - before : 0 });
    this.#tell(this.tacks, { laid: laid + (burning ? 0.5 : 0) });
    this.#loads(Math.min(laid, picture.beads.length));
  }

  #bend(place, times) {
    if (this.bentAt === place && this.bentTimes === times) return;
    [this.bentAt, this.bentTimes] = [place, times];
    const { axis, picture, bentNodes } = this;
    axis.moveTo(place, times);
    axis.bend(this.nodes, bentNodes);
    const skin = this.skin.geometry.getAttribute("position");
    const { corner_node: nodeOf } = picture;
    for (let n = 0, i = 0; n < nodeOf.length; n += 1, i += 3) {
      const node = 3 * nodeOf[n];
      skin.array[i] = bentNodes[node];
      skin.array[i + 1] = bentNodes[node + 1];
      skin.array[i + 2] = bentNodes[node + 2];
    }
    skin.needsUpdate = true;
    this.edgePieces.set(bentNodes, picture.edges);
    axis.bend(this.beadPlaces, this.bentBeads);
    this.beads.pieces.set(this.bentBeads, this.beads.pairs);
    const tacks = this.tacks.geometry.getAttribute("position");
    axis.bend(this.tackPlaces, tacks.array);
    tacks.needsUpdate = true;
  }

  #heat(name, slot, moment) {
    if (this.heatAt[slot] === moment) return;
    this.heatAt[slot] = moment;
    const { corner_node: nodeOf, rises, nodes } = this.picture;
    const attribute = this.skin.geometry.getAttribute(name);
    const start = moment * nodes;
    for (let n = 0; n < nodeOf.length; n += 1) attribute.array[n] = rises[start + nodeOf[n]];
    attribute.needsUpdate = true;
  }

  #loads(bead) {
    const { tacks, tack_loads: loads, tack_load: load, beads } = this.picture;
    if (bead === this.loadsAt) return;
    this.loadsAt = bead;
    const loaded = this.tacks.geometry.getAttribute("loaded");
    tacks.forEach((_, n) => {
      const near = loads[n * (beads.length + 1) + bead] * load.step >= load.near;
      loaded.array.fill(near ? 1 : 0, 4 * n, 4 * n + 4);
    });
    loaded.needsUpdate = true;
  }

  /** Size of the picture on the page [px], and how many dots of the screen a pixel is drawn with. */
  resize(width, height, dots) {
    if (this.size[0] === width && this.size[1] === height && this.dots === dots) return;
    [this.size, this.dots] = [[width, height], dots];
    this.renderer.setPixelRatio(dots);
    this.renderer.setSize(width, height, false);
    this.shared.pixel.value = [2 / width, 2 / height];
    // On a phone the drawing is small, and so are its lines.
    const weight = Math.min(Math.max(width / 700, 0.6), 1);
    this.#tell(this.rim, { width: 3 * weight });
    this.#tell(this.edges, { width: 1.1 * weight });
    for (const mesh of [this.under, this.over]) this.#tell(mesh, { widths: [1.6, 3, 6, 3].map((each) => each * weight) });
  }

  /** Where it is seen from: turned round and over [rad], metres from edge to edge, and what is in the middle. */
  look({ round, over, metres, aside, up }) {
    const [width, height] = this.size;
    const away = new Vector3(Math.sin(round) * Math.cos(over), Math.sin(over), Math.cos(round) * Math.cos(over));
    const right = new Vector3(Math.cos(round), 0, -Math.sin(round));
    const above = new Vector3().crossVectors(away, right);
    const [across, upright] = this.extent(round, over);
    const centre = right.clone().multiplyScalar(across.middle + aside).addScaledVector(above, upright.middle + up);
    const { camera } = this;
    camera.left = -metres / 2;
    camera.right = metres / 2;
    camera.top = (metres / 2) * (height / width);
    camera.bottom = -camera.top;
    camera.up.copy(above);
    camera.position.copy(centre).addScaledVector(away, DEPTH);
    camera.lookAt(centre);
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
    this.away = away;
  }

  render() {
    const m = this.housing.matrix.elements;
    const { x, y, z } = this.away;
    this.outline.find(this.bentNodes, [x, m[5] * y + m[6] * z, m[9] * y + m[10] * z]);
    this.renderer.render(this.scene, this.camera);
  }

  /** Where a place of the housing is on the page [px from the left and from the top]. */
  onPage(place) {
    return this.#toPage(this.axis.bent(...place));
  }

  #toPage(bent) {
    const at = this.#inScene(bent).project(this.camera);
    return [(at.x + 1) * 0.5 * this.size[0], (1 - at.y) * 0.5 * this.size[1]];
  }

  /** Whether what looks outward this way can be seen from here. */
  faces(outward) {
    return this.#inScene(outward).dot(this.away) > 0.05;
  }

  #inScene(place) {
    return new Vector3(...place).applyMatrix4(this.housing.matrix);
  }

  /** Where a bead is: its middle, start and stop on the page, and whether it can be seen. */
  beadOnPage(bead) {
    const { bead_first: first, beadOutward } = this.picture;
    const [start, stop] = [first[bead], first[bead + 1] - 1];
    const half = (start + stop) >> 1;
    const at = (n) => this.#toPage(this.bentBeads.subarray(3 * n, 3 * n + 3));
    return {
      middle: at(half), start: at(start), stop: at(stop), seen: this.faces(beadOutward.subarray(3 * half, 3 * half + 3)),
      outward: this.#outwardOnPage(beadOutward.subarray(3 * half, 3 * half + 3)),
    };
  }

  #outwardOnPage(outward) {
    const at = this.#inScene(outward).transformDirection(this.camera.matrixWorldInverse);
    return [at.x, -at.y];
  }

  tackOnPage(tack) {
    const { tackPoints, tackOutward } = this.picture;
    return { middle: this.onPage(lifted(tackPoints, tackOutward, tack)),
      seen: this.faces(tackOutward.subarray(3 * tack, 3 * tack + 3)) };
  }

  /** What the housing takes up on the page from a direction, as it lies now: its middle and size, right and up [m]. */
  extent(round, over) {
    const { places } = this.picture;
    const m = this.housing.matrix.elements;
    const rows = [[Math.cos(round), 0, -Math.sin(round)],
      [-Math.sin(round) * Math.sin(over), Math.cos(over), -Math.cos(round) * Math.sin(over)]]
      .map(([a, b, c]) => [a, b * m[5] + c * m[6], b * m[9] + c * m[10]]);
    return rows.map(([a, b, c]) => {
      let [low, high] = [Infinity, -Infinity];
      for (let n = 0; n < places.length; n += 3) {
        const at = a * places[n] + b * places[n + 1] + c * places[n + 2];
        if (at < low) low = at;
        if (at > high) high = at;
      }
      return { middle: (low + high) / 2, size: high - low };
    });
  }

  dispose() {
    this.renderer.dispose();
  }
}

function withoutCard() {
  const probe = document.createElement("canvas").getContext("webgl2");
  const names = probe?.getExtension("WEBGL_debug_renderer_info");
  const name = names ? String(probe.getParameter(names.UNMASKED_RENDERER_WEBGL)) : "";
  probe?.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}
