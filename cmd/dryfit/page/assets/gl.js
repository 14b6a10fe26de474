// Drawing with WebGL2: shaders, the numbers of shapes on the graphics card, a frame.
"use strict";
(() => {
  const d = window.dryfit;
  const gl = d.gl = { ready: false };
  let g, canvas, mesh, line, pickTarget, boxShape;
  const onCard = new Map(); // shape -> what is on the card

  const vertex = `#version 300 es
    in vec3 place;
    uniform vec3 low, size, offset, centre, right, up, away;
    uniform vec3 view; // half width, half height, depth, in mm
    out vec3 world;
    void main() {
      world = low + place * size + offset;
      vec3 v = world - centre;
      gl_Position = vec4(dot(v, right) / view.x, dot(v, up) / view.y, dot(v, away) / view.z, 1.0);
    }`;
  const meshPixel = `#version 300 es
    precision highp float;
    in vec3 world;
    uniform vec3 colour, right, up, away, cutAxis;
    uniform float cut, pattern, flatColour;
    out vec4 pixel;
    void main() {
      if (dot(world, cutAxis) > cut) discard;
      if (flatColour > 0.5) { pixel = vec4(colour, 1.0); return; }
      float s = gl_FragCoord.x + gl_FragCoord.y, t = gl_FragCoord.x - gl_FragCoord.y;
      if (pattern > 2.5) {
        if (mod(s, 9.0) >= 4.0) discard;
        pixel = vec4(colour, 1.0);
        return;
      }
      vec3 n = normalize(cross(dFdx(world), dFdy(world)));
      if (dot(n, away) > 0.0) n = -n;
      float light = 0.62 + 0.25 * max(0.0, dot(n, up)) + 0.18 * max(0.0, -dot(n, away)) - 0.08 * dot(n, right);
      vec3 c = colour;
      if (pattern > 0.5 && pattern < 1.5 && mod(s, 14.0) < 5.0) c = vec3(0.05);
      if (pattern > 1.5 && pattern < 2.5 && mod(s, 10.0) < 3.0 && mod(t, 10.0) < 3.0) c = vec3(0.05);
      pixel = vec4(c * light, 1.0);
    }`;
  const linePixel = `#version 300 es
    precision highp float;
    in vec3 world;
    uniform vec3 colour, cutAxis;
    uniform float cut;
    out vec4 pixel;
    void main() {
      if (dot(world, cutAxis) > cut) discard;
      pixel = vec4(colour, 1.0);
    }`;

  const compile = (pixel) => {
    const p = g.createProgram();
    for (const [kind, text] of [[g.VERTEX_SHADER, vertex], [g.FRAGMENT_SHADER, pixel]]) {
      const s = g.createShader(kind);
      g.shaderSource(s, text);
      g.compileShader(s);
      if (!g.getShaderParameter(s, g.COMPILE_STATUS) && !g.isContextLost()) throw new Error(g.getShaderInfoLog(s));
      g.attachShader(p, s);
    }
    g.bindAttribLocation(p, 0, "place");
    g.linkProgram(p);
    const uniforms = {};
    const n = g.getProgramParameter(p, g.ACTIVE_UNIFORMS) ?? 0;
    for (let i = 0; i < n; i++) {
      const name = g.getActiveUniform(p, i).name;
      uniforms[name] = g.getUniformLocation(p, name);
    }
    return { p, uniforms };
  };

  // start sets up the canvas; false where the browser cannot draw in 3D.
  gl.start = (c) => {
    canvas = c;
    g = canvas.getContext("webgl2", { antialias: true, preserveDrawingBuffer: false });
    if (!g) return false;
    canvas.addEventListener("webglcontextlost", e => { e.preventDefault(); gl.ready = false; });
    canvas.addEventListener("webglcontextrestored", () => { setUp(); d.tell("look", false); });
    setUp();
    return true;
  };

  const setUp = () => {
    onCard.clear();
    mesh = compile(meshPixel);
    line = compile(linePixel);
    pickTarget = null;
    boxShape = makeBox();
    g.enable(g.DEPTH_TEST);
    gl.ready = true;
  };

  // makeBox is the shape of pieces that have none.
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

  const card = (shape) => {
    let c = onCard.get(shape);
    if (c) return c;
    const places = g.createBuffer();
    g.bindBuffer(g.ARRAY_BUFFER, places);
    g.bufferData(g.ARRAY_BUFFER, shape.places, g.STATIC_DRAW);
    const list = (numbers) => {
      const a = g.createVertexArray(), b = g.createBuffer();
      g.bindVertexArray(a);
      g.bindBuffer(g.ARRAY_BUFFER, places);
      g.enableVertexAttribArray(0);
      g.vertexAttribPointer(0, 3, g.UNSIGNED_SHORT, true, 6, 0);
      g.bindBuffer(g.ELEMENT_ARRAY_BUFFER, b);
      g.bufferData(g.ELEMENT_ARRAY_BUFFER, numbers, g.STATIC_DRAW);
      g.bindVertexArray(null);
      return { a, b, n: numbers.length };
    };
    c = { places, fine: list(shape.fine), coarse: list(shape.coarse), edges: list(shape.edges) };
    onCard.set(shape, c);
    return c;
  };

  // forget frees what is no longer shown, so that a day of changes does not fill the card.
  gl.forget = () => {
    const used = new Set([...d.shapes.values(), boxShape]);
    for (const [shape, c] of onCard) {
      if (used.has(shape)) continue;
      g.deleteBuffer(c.places);
      for (const l of [c.fine, c.coarse, c.edges]) { g.deleteVertexArray(l.a); g.deleteBuffer(l.b); }
      onCard.delete(shape);
    }
  };
  gl.held = () => onCard.size;

  const dark = () => matchMedia("(prefers-color-scheme: dark)").matches;
  const colours = { "": [0.86, 0.87, 0.88], new: [0.98, 0.78, 0.32], stuck: [0.93, 0.45, 0.42], blocker: [0.55, 0.75, 0.95], pale: [0.95, 0.95, 0.95], picked: [0.45, 0.83, 0.72], hidden: [0.6, 0.05, 0.05] };
  const patterns = { stuck: 1, blocker: 2, hidden: 3 };

  const setView = (program) => {
    const b = d.camera.basis(), h = d.camera.tall / 2, u = program.uniforms, s = d.scene;
    g.useProgram(program.p);
    g.uniform3fv(u.centre, d.camera.centre);
    for (const k of ["right", "up", "away"]) g.uniform3fv(u[k], b[k]);
    g.uniform3f(u.view, h * canvas.width / canvas.height, h, Math.max(d.camera.size, d.camera.tall) * 4);
    const axis = [0, 0, 0];
    let at = 1e9;
    if (s.cutAxis >= 0) {
      axis[s.cutAxis] = 1;
      const box = s.wholeBox ?? s.box(d.model.pieces.map((_, p) => p));
      at = box.low[s.cutAxis] + s.cut * (box.high[s.cutAxis] - box.low[s.cutAxis]);
    }
    g.uniform3fv(u.cutAxis, axis);
    g.uniform1f(u.cut, at);
  };

  const put = (u, p, by) => {
    const piece = d.model.pieces[p], o = by.get(p) ?? [0, 0, 0];
    g.uniform3fv(u.low, piece.min);
    g.uniform3f(u.size, piece.max[0] - piece.min[0], piece.max[1] - piece.min[1], piece.max[2] - piece.min[2]);
    g.uniform3fv(u.offset, o);
  };

  const shapeOf = p => d.shapes.get(d.model.pieces[p].shape) ?? (d.model.schematic ? boxShape : null);

  // slow says that a frame with all detail takes long. Then edges, finer shapes and the
  // backs of faces are left out while the model moves.
  gl.slow = true;
  const quick = 25; // ms

  // frame draws all. At rest it takes the time that it needs, when nothing new had to go
  // to the card for it.
  gl.frame = (moving) => {
    if (!gl.ready) return;
    if (moving) return draw(gl.slow);
    const held = onCard.size, began = performance.now();
    draw(false);
    g.readPixels(0, 0, 1, 1, g.RGBA, g.UNSIGNED_BYTE, new Uint8Array(4)); // waits for the card
    if (held === onCard.size && held > 0) gl.slow = performance.now() - began > quick;
  };

  const draw = (less) => {
    g.bindFramebuffer(g.FRAMEBUFFER, null);
    g.viewport(0, 0, canvas.width, canvas.height);
    g.clearColor(...(dark() ? [0.13, 0.14, 0.16] : [1, 1, 1]), 1);
    g.clear(g.COLOR_BUFFER_BIT | g.DEPTH_BUFFER_BIT);
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

  const run = (mode, l) => {
    g.bindVertexArray(l.a);
    g.drawElements(mode, l.n, g.UNSIGNED_INT, 0);
  };

  const faces = (list, by, less) => {
    setView(mesh);
    g.enable(g.POLYGON_OFFSET_FILL);
    g.polygonOffset(1, 1);
    g.uniform1f(mesh.uniforms.flatColour, 0);
    for (const [p, role] of list) {
      const shape = shapeOf(p);
      if (!shape) continue;
      const c = card(shape), l = less ? c.coarse : c.fine;
      if (!l.n) continue; // too small to be seen while the model turns
      put(mesh.uniforms, p, by);
      g.uniform3fv(mesh.uniforms.colour, p === d.scene.picked ? colours.picked : colours[role]);
      g.uniform1f(mesh.uniforms.pattern, patterns[role] ?? 0);
      run(g.TRIANGLES, l);
    }
    g.disable(g.POLYGON_OFFSET_FILL);
  };

  const edges = (list, by) => {
    setView(line);
    for (const [p, role] of list) {
      const shape = shapeOf(p);
      if (!shape) continue;
      put(line.uniforms, p, by);
      const strong = role === "new" || role === "stuck" || p === d.scene.picked;
      g.uniform3fv(line.uniforms.colour, role === "pale" ? [0.75, 0.75, 0.75] : strong ? [0, 0, 0] : [0.35, 0.36, 0.38]);
      run(g.LINES, card(shape).edges);
    }
  };

  // through draws what is stuck, where other pieces hide it, as stripes over them: what
  // is trapped is mostly within something.
  const through = (stuck, by) => {
    g.depthFunc(g.GREATER);
    g.depthMask(false);
    for (const program of [mesh, line]) {
      setView(program);
      g.uniform3fv(program.uniforms.colour, colours.hidden);
      if (program === mesh) {
        g.uniform1f(mesh.uniforms.flatColour, 0);
        g.uniform1f(mesh.uniforms.pattern, patterns.hidden);
      }
      for (const [p] of stuck) {
        const shape = shapeOf(p);
        if (!shape) continue;
        put(program.uniforms, p, by);
        if (program === mesh) run(g.TRIANGLES, card(shape).fine);
        else run(g.LINES, card(shape).edges);
      }
    }
    g.depthFunc(g.LESS);
    g.depthMask(true);
  };

  // at is the piece that is seen at a place of the canvas, in its pixels; -1 for none.
  gl.at = (x, y) => {
    if (!gl.ready) return -1;
    if (!pickTarget || pickTarget.w !== canvas.width || pickTarget.h !== canvas.height) {
      if (pickTarget) { g.deleteFramebuffer(pickTarget.f); g.deleteRenderbuffer(pickTarget.c); g.deleteRenderbuffer(pickTarget.z); }
      const f = g.createFramebuffer(), c = g.createRenderbuffer(), z = g.createRenderbuffer();
      g.bindFramebuffer(g.FRAMEBUFFER, f);
      g.bindRenderbuffer(g.RENDERBUFFER, c);
      g.renderbufferStorage(g.RENDERBUFFER, g.RGBA8, canvas.width, canvas.height);
      g.framebufferRenderbuffer(g.FRAMEBUFFER, g.COLOR_ATTACHMENT0, g.RENDERBUFFER, c);
      g.bindRenderbuffer(g.RENDERBUFFER, z);
      g.renderbufferStorage(g.RENDERBUFFER, g.DEPTH_COMPONENT16, canvas.width, canvas.height);
      g.framebufferRenderbuffer(g.FRAMEBUFFER, g.DEPTH_ATTACHMENT, g.RENDERBUFFER, z);
      pickTarget = { f, c, z, w: canvas.width, h: canvas.height };
    }
    g.bindFramebuffer(g.FRAMEBUFFER, pickTarget.f);
    g.viewport(0, 0, canvas.width, canvas.height);
    g.clearColor(0, 0, 0, 0);
    g.clear(g.COLOR_BUFFER_BIT | g.DEPTH_BUFFER_BIT);
    setView(mesh);
    g.uniform1f(mesh.uniforms.flatColour, 1);
    const { solid } = d.scene.shown(), by = d.scene.offsets();
    for (const p of solid) {
      const shape = shapeOf(p);
      if (!shape) continue;
      put(mesh.uniforms, p, by);
      const n = p + 1;
      g.uniform3f(mesh.uniforms.colour, (n & 255) / 255, (n >> 8 & 255) / 255, (n >> 16 & 255) / 255);
      run(g.TRIANGLES, card(shape).fine);
    }
    const pixel = new Uint8Array(4);
    g.readPixels(Math.round(x), canvas.height - 1 - Math.round(y), 1, 1, g.RGBA, g.UNSIGNED_BYTE, pixel);
    g.bindFramebuffer(g.FRAMEBUFFER, null);
    g.bindVertexArray(null);
    return (pixel[0] | pixel[1] << 8 | pixel[2] << 16) - 1;
  };
})();
