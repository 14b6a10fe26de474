// Draws the model with WebGL2.
"use strict";
(() => {
  const d = window.dryfit;
  const gl = d.gl = { ready: false };
  let g, canvas, programs, card, targets, boxShape;

  // start sets up the canvas; false where the browser cannot draw in 3D. Antialiasing is
  // done here: the browser's, for each frame, is too slow without graphics hardware.
  gl.start = c => {
    canvas = c;
    g = canvas.getContext("webgl2", { antialias: false, alpha: false });
    if (!g) return false;
    canvas.addEventListener("webglcontextlost", e => { e.preventDefault(); gl.ready = false; });
    canvas.addEventListener("webglcontextrestored", () => { setUp(); d.emit("redraw", false); });
    setUp();
    return true;
  };

  const setUp = () => {
    programs = d.programs(g);
    card = d.newCard(g);
    targets = d.newTargets(g, canvas);
    boxShape = makeBox();
    g.enable(g.DEPTH_TEST);
    gl.ready = true;
  };

  // makeBox is the shape of pieces without one.
  const makeBox = () => {
    const places = new Uint16Array(24), fine = [], edges = [];
    for (let i = 0; i < 8; i++) for (let k = 0; k < 3; k++) places[3 * i + k] = i >> k & 1 ? 65535 : 0;
    for (let k = 0; k < 3; k++) {
      const a = 1 << k, b = 1 << (k + 1) % 3, c = 1 << (k + 2) % 3;
      for (const o of [0, a]) fine.push(o, o | b, o | b | c, o, o | b | c, o | c);
      for (const o of [0, b, c, b | c]) edges.push(o, o | a);
    }
    return { places, fine: new Uint32Array(fine), coarse: new Uint32Array(fine), edges: new Uint32Array(edges) };
  };

  const shapeOf = p => d.shapes.get(d.model.pieces[p].shape) ?? (d.model.schematic ? boxShape : null);

  gl.forget = () => card?.keep(new Set([...d.shapes.values(), boxShape]));
  gl.held = () => card.size();

  const dark = () => matchMedia("(prefers-color-scheme: dark)").matches;
  const colours = { "": [0.86, 0.87, 0.88], new: [0.56, 0.84, 0.79], stuck: [0.93, 0.45, 0.42], blocker: [0.55, 0.75, 0.95], pale: [0.95, 0.95, 0.95], picked: [0.80, 0.70, 0.95], hidden: [0.6, 0.05, 0.05] };
  const patterns = { stuck: 1, blocker: 2, hidden: 3 };

  // use prepares a program for the current view.
  const use = program => {
    const b = d.camera.basis(), h = d.camera.tall / 2, u = program.uniforms, s = d.scene;
    g.useProgram(program.p);
    g.uniform3fv(u.centre, d.camera.centre);
    for (const k of ["right", "up", "away"]) g.uniform3fv(u[k], b[k]);
    g.uniform3f(u.view, h * canvas.width / canvas.height, h, Math.max(d.camera.size, d.camera.tall) * 4);
    if (!u.cutAxis) return u;
    const axis = [0, 0, 0];
    let at = 1e9;
    if (s.cutAxis >= 0) {
      axis[s.cutAxis] = 1;
      const box = s.box(d.model.pieces.map((_, p) => p));
      at = box.low[s.cutAxis] + s.cut * (box.high[s.cutAxis] - box.low[s.cutAxis]);
    }
    g.uniform3fv(u.cutAxis, axis);
    g.uniform1f(u.cut, at);
    return u;
  };

  // put draws the triangles or lines of a piece at its current position.
  const put = (u, p, by, colour, mode, part) => {
    const shape = shapeOf(p);
    if (!shape) return;
    const l = card.of(shape)[part];
    if (!l.n) return; // too small to be seen while the model turns
    const piece = d.model.pieces[p];
    g.uniform3fv(u.low, piece.min);
    g.uniform3f(u.size, piece.max[0] - piece.min[0], piece.max[1] - piece.min[1], piece.max[2] - piece.min[2]);
    g.uniform3fv(u.offset, by.get(p) ?? [0, 0, 0]);
    g.uniform3fv(u.colour, colour);
    g.bindVertexArray(l.a);
    g.drawElements(mode, l.n, g.UNSIGNED_INT, 0);
  };

  // slow is true where a frame in full detail takes long. Then a changed model is drawn
  // without antialiasing at first, and while it moves also without edges, fine shapes and
  // back faces.
  gl.slow = true;
  const quick = 25; // ms

  // frame draws everything. At rest it is timed, unless shapes had to be uploaded first.
  gl.frame = (moving, resting) => {
    if (!gl.ready) return;
    if (gl.slow && !resting) {
      targets.screen();
      draw(moving);
      return;
    }
    const held = card.size(), began = performance.now();
    targets.smooth();
    draw(false);
    targets.show();
    if (!resting) return;
    g.readPixels(0, 0, 1, 1, g.RGBA, g.UNSIGNED_BYTE, new Uint8Array(4)); // waits for the card
    if (held === card.size() && held > 0) gl.slow = performance.now() - began > quick;
  };

  const clear = (...colour) => {
    g.viewport(0, 0, canvas.width, canvas.height);
    g.clearColor(...colour);
    g.clear(g.COLOR_BUFFER_BIT | g.DEPTH_BUFFER_BIT);
  };

  const draw = less => {
    clear(...(dark() ? [0.11, 0.13, 0.14] : [1, 1, 1]), 1);
    const { solid, pale } = d.scene.shown(), by = d.scene.offsets();
    const list = [...solid.map(p => [p, d.scene.role(p)]), ...pale.map(p => [p, "pale"])];
    const stuck = list.filter(([, role]) => role === "stuck"), others = list.filter(([, role]) => role !== "stuck");
    if (less && d.scene.cutAxis < 0) g.enable(g.CULL_FACE);
    faces(others, by, less);
    if (!less) edges(others, by);
    if (stuck.length) {
      through(stuck, by);
      faces(stuck, by, less);
      edges(stuck, by);
    }
    g.disable(g.CULL_FACE);
    g.bindVertexArray(null);
  };

  const faces = (list, by, less) => {
    const plain = ([, role]) => d.scene.cutAxis < 0 && !patterns[role];
    g.enable(g.POLYGON_OFFSET_FILL);
    g.polygonOffset(0.5, 1); // half a pixel: with more, edges below a thin wall show through it
    for (const [program, some] of [[programs.plain, list.filter(plain)], [programs.patterned, list.filter(x => !plain(x))]]) {
      const u = use(program);
      for (const [p, role] of some) {
        if (u.pattern) g.uniform1f(u.pattern, patterns[role] ?? 0);
        put(u, p, by, p === d.scene.picked ? colours.picked : colours[role], g.TRIANGLES, less ? "coarse" : "fine");
      }
    }
    g.disable(g.POLYGON_OFFSET_FILL);
  };

  const edges = (list, by) => {
    const u = use(programs.flat);
    for (const [p, role] of list) {
      const strong = role === "new" || role === "stuck" || p === d.scene.picked;
      put(u, p, by, role === "pale" ? [0.75, 0.75, 0.75] : strong ? [0, 0, 0] : [0.35, 0.36, 0.38], g.LINES, "edges");
    }
  };

  // through draws what is stuck as stripes over the pieces that hide it: a trapped piece is
  // mostly inside something.
  const through = (stuck, by) => {
    g.depthFunc(g.GREATER);
    g.depthMask(false);
    let u = use(programs.patterned);
    g.uniform1f(u.pattern, patterns.hidden);
    for (const [p] of stuck) put(u, p, by, colours.hidden, g.TRIANGLES, "fine");
    u = use(programs.flat);
    for (const [p] of stuck) put(u, p, by, colours.hidden, g.LINES, "edges");
    g.depthFunc(g.LESS);
    g.depthMask(true);
  };

  // at is the piece at a pixel of the canvas; -1 for none. Each piece is drawn in a colour
  // that encodes its number.
  gl.at = (x, y) => {
    if (!gl.ready) return -1;
    targets.pick();
    clear(0, 0, 0, 0);
    const { solid } = d.scene.shown(), by = d.scene.offsets(), u = use(programs.flat);
    for (const p of solid) {
      const n = p + 1;
      put(u, p, by, [(n & 255) / 255, (n >> 8 & 255) / 255, (n >> 16 & 255) / 255], g.TRIANGLES, "fine");
    }
    const pixel = new Uint8Array(4);
    g.readPixels(Math.round(x), canvas.height - 1 - Math.round(y), 1, 1, g.RGBA, g.UNSIGNED_BYTE, pixel);
    targets.screen();
    g.bindVertexArray(null);
    return (pixel[0] | pixel[1] << 8 | pixel[2] << 16) - 1;
  };
})();
