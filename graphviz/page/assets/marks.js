// Labels and signs over the model: what is stuck, where it comes from and what is in its
// way, clashes, the name of the picked piece.
"use strict";
window.dryfit.parts.push(() => {
  const d = window.dryfit, layer = d.el("marks"), most = 12;
  const middle = (p, by) => {
    const q = d.model.pieces[p], o = by.get(p) ?? [0, 0, 0];
    return [0, 1, 2].map(k => (q.min[k] + q.max[k]) / 2 + o[k]);
  };
  const sign = (tag, attributes) => {
    const e = document.createElementNS("http://www.w3.org/2000/svg", tag);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
    return e;
  };

  // arrow points from one place of the view to another, light beside dark so that it shows
  // on both.
  const arrow = (lines, [x, y], [u, v]) => {
    const long = Math.hypot(u - x, v - y);
    if (long < 8) return;
    const a = (u - x) / long, b = (v - y) / long, head = Math.min(14, long / 2);
    const path = `M${x} ${y}L${u} ${v}M${u - head * (a + b / 2)} ${v - head * (b - a / 2)}L${u} ${v}L${u - head * (a - b / 2)} ${v - head * (b + a / 2)}`;
    lines.append(sign("path", { d: path, class: "halo" }), sign("path", { d: path }));
  };

  d.on("drawn", () => {
    const w = layer.clientWidth, h = layer.clientHeight, by = d.scene.offsets();
    const here = new Set(d.scene.shown().solid), placed = [];
    const lines = sign("svg", { width: w, height: h });
    layer.replaceChildren(lines);
    // put writes at a place, below anything written there already
    const put = (at, kind, text) => {
      let [x, y] = d.camera.project(at, w, h);
      if (x < 0 || y < 0 || x > w || y > h) return;
      const half = Math.min(w, 8 * text.length + 16) / 2; // about how wide it gets
      x = Math.min(Math.max(x, half), w - half);
      while (placed.some(([u, v, other]) => Math.abs(u - x) < half + other && Math.abs(v - y) < 26)) y += 13;
      placed.push([x, y, half]);
      const e = d.make("span", { class: `mark ${kind}` }, text);
      e.style.left = `${x}px`;
      e.style.top = `${y}px`;
      layer.append(e);
    };
    const { pieces, clashes } = d.model, name = p => d.model.pieces[p].label;
    const stuck = pieces.flatMap((q, p) => q.stuck && here.has(p) ? [p] : []).slice(0, most);
    const inTheWay = new Set();
    for (const p of stuck) {
      const at = middle(p, by), from = d.scene.way(p);
      if (from) arrow(lines, d.camera.project([0, 1, 2].map(k => at[k] + from[k]), w, h), d.camera.project(at, w, h));
      put(at, "stuck", `✕ ${pieces[p].stuck}: ${name(p)}`);
      for (const q of pieces[p].by ?? []) inTheWay.add(q);
    }
    for (const p of [...inTheWay].filter(p => here.has(p)).slice(0, most)) put(middle(p, by), "blocker", `▒ in the way: ${name(p)}`);
    for (const c of clashes.slice(0, 40)) {
      if (here.has(c.a) && here.has(c.b)) put(c.at, "clash", "✱ clash");
    }
    const p = d.scene.picked;
    if (p >= 0 && here.has(p)) put(middle(p, by), "name", name(p));
  });
});
