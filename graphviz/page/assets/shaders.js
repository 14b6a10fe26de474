// The shaders: where a corner appears, and which colour a pixel gets.
"use strict";
(() => {
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

  // a face is lit from above and from the eye
  const lit = `
    uniform vec3 colour, right, up, away;
    vec3 lit(vec3 c) {
      vec3 n = normalize(cross(dFdx(world), dFdy(world)));
      if (dot(n, away) > 0.0) n = -n;
      return c * (0.62 + 0.25 * max(0.0, dot(n, up)) + 0.18 * max(0.0, -dot(n, away)) - 0.08 * dot(n, right));
    }`;

  const head = `#version 300 es
    precision highp float;
    in vec3 world;
    out vec4 pixel;`;

  const pixels = {
    // most faces: a shader that never discards a pixel is faster
    plain: head + lit + `
    void main() { pixel = vec4(lit(colour), 1.0); }`,

    // faces that are cut, striped or dotted
    patterned: head + lit + `
    uniform vec3 cutAxis;
    uniform float cut, pattern;
    void main() {
      if (dot(world, cutAxis) > cut) discard;
      float s = gl_FragCoord.x + gl_FragCoord.y, t = gl_FragCoord.x - gl_FragCoord.y;
      if (pattern > 2.5) {
        if (mod(s, 9.0) >= 4.0) discard;
        pixel = vec4(colour, 1.0);
        return;
      }
      vec3 c = colour;
      if (pattern > 0.5 && pattern < 1.5 && mod(s, 14.0) < 5.0) c = vec3(0.05);
      if (pattern > 1.5 && pattern < 2.5 && mod(s, 10.0) < 3.0 && mod(t, 10.0) < 3.0) c = vec3(0.05);
      pixel = vec4(lit(c), 1.0);
    }`,

    // edges, and faces in the colours that identify pieces
    flat: head + `
    uniform vec3 colour, cutAxis;
    uniform float cut;
    void main() {
      if (dot(world, cutAxis) > cut) discard;
      pixel = vec4(colour, 1.0);
    }`,
  };

  const compile = (g, pixel) => {
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

  window.dryfit.programs = g => Object.fromEntries(Object.entries(pixels).map(([name, text]) => [name, compile(g, text)]));
})();
