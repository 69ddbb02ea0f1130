// Draws a housing of 10,000 vertices with the page's own modules for some seconds, everything in it changing.
async () => {
  const [{ Stage }, { Labels }, { at }] = await Promise.all(
    ["stage", "labels", "moment"].map((name) => import(`/static/view/${name}.js`)));
  const [round, along, beads, moments] = [100, 101, 98, 60];
  const nodes = round * along;
  const count = (n, make) => Array.from({ length: n }, (_, k) => make(k));
  const places = Float32Array.from(count(nodes, (n) => {
    const [station, angle] = [Math.floor(n / round), (2 * Math.PI * (n % round)) / round];
    const radius = 0.05 + 0.1 * Math.exp(-(((station - 50) / 14) ** 2));
    return [0.65 - (1.3 * station) / (along - 1), radius * Math.sin(angle), radius * Math.cos(angle)];
  }).flat());
  const faces = count(round * (along - 1), (n) => {
    const next = n % round === round - 1 ? n - round + 1 : n + 1;
    return [n, next, next + round, n + round];
  }).flat();
  const outward = (n) => Float32Array.from(count(3 * n, (k) => [0, 0.6, 0.8][k % 3]));
  const picture = {
    places, nodes, moments, faces: Uint16Array.from(faces), corner_node: Uint16Array.from(count(nodes, (n) => n)),
    rises: Uint8Array.from(count(moments * nodes, (n) => (n * 7919) % 90)),
    edges: Uint16Array.from(count(3000, (n) => (n * 3) % nodes)),
    bead_first: Uint32Array.from(count(beads + 1, (n) => 8 * n)),
    beadPoints: places.slice(0, 24 * beads), beadOutward: outward(8 * beads),
    tackPoints: places.slice(3000, 3300), tackOutward: outward(100),
    tacks: count(100, (n) => ({ number: n + 1, largest: n / 80, melted_by: n })),
    tack_loads: new Uint16Array(100 * (beads + 1)).fill(500), tack_load: { step: 0.001, near: 0.8, beyond: 1 },
    beads: count(beads, (n) => ({ number: n + 1 })), bead: new Uint16Array(moments),
    doing: new Uint8Array(moments), doing_words: ["arc starts"], laid: Uint16Array.from(count(moments, (n) => n)),
    time: Float32Array.from(count(moments, (n) => n)), hottest: new Float32Array(moments), turn: new Float32Array(moments),
    axis: { step_m: 1e-7, stations_m: count(27, (n) => 0.65 - (1.3 * n) / 26), figures: count(7, (n) => `${n}`) },
    vertical: Int32Array.from(count(27 * moments, (n) => 3 * n)), fore_aft: new Int32Array(27 * moments),
    figures: new Float32Array(7 * moments),
  };
  const [canvas, over] = ["canvas", "div"].map((kind) => {
    const element = document.createElement(kind);
    Object.assign(element.style, { position: "fixed", left: 0, top: 0, width: "820px", height: "500px", zIndex: 99 });
    document.body.append(element);
    return element;
  });
  const stage = new Stage(canvas, picture);
  const labels = new Labels(over, picture);
  stage.resize(820, 500, 1);
  stage.scale([0, 80], true);
  const draw = (n) => {
    const place = (n % 58) + 0.5;
    stage.moveTo(place, 50);
    stage.look({ round: n / 40, over: 0.4, metres: 1.5, aside: 0, up: 0 });
    stage.render();
    labels.place(stage, { now: at(picture, place), zoom: 1, chosen: -1 });
  };
  const perSecond = async (each, seconds) => {
    let frames = 0;
    const began = performance.now();
    while (performance.now() - began < 1000 * seconds) {
      each(frames);
      frames += 1;
      await new Promise(requestAnimationFrame);
    }
    return (1000 * frames) / (performance.now() - began);
  };
  const gl = stage.renderer.getContext();
  await perSecond(draw, 1);
  const frames = await perSecond(draw, 4);
  const bare = await perSecond(() => gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT), 2);
  const began = performance.now();
  for (let n = 0; n < 20; n += 1) {
    draw(n);
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
  }
  const whole = (performance.now() - began) / 20;
  gl.getExtension("WEBGL_lose_context").loseContext();
  for (const element of [canvas, over]) element.remove();
  return { frames, bare, whole_ms: whole, vertices: nodes };
}
