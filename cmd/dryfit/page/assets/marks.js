// Words and signs over the model: what is stuck and which way it wants to go, clashes,
// the name of the piece that is picked.
"use strict";
window.dryfit.parts.push(() => {
  const d = window.dryfit, layer = d.el("marks");
  const middle = (p, by) => {
    const q = d.model.pieces[p], o = by.get(p) ?? [0, 0, 0];
    return [0, 1, 2].map(k => (q.min[k] + q.max[k]) / 2 + o[k]);
  };
  d.on("drawn", () => {
    const w = layer.clientWidth, h = layer.clientHeight, by = d.scene.offsets();
    const { solid } = d.scene.shown(), here = new Set(solid);
    layer.replaceChildren();
    const put = (at, kind, text) => {
      const [x, y] = d.camera.project(at, w, h);
      if (x < 0 || y < 0 || x > w || y > h) return;
      const e = d.make("span", { class: `mark ${kind}` }, text);
      e.style.left = `${x}px`;
      e.style.top = `${y}px`;
      layer.append(e);
    };
    let told = 0;
    d.model.pieces.forEach((q, p) => {
      if (q.stuck && here.has(p) && told++ < 12) put(middle(p, by), "stuck", `✕ ${q.stuck}: ${q.number}`);
    });
    for (const c of d.model.clashes.slice(0, 40)) {
      if (here.has(c.a) && here.has(c.b)) put(c.at, "clash", "✱ clash");
    }
    const p = d.scene.picked;
    if (p >= 0 && here.has(p)) put(middle(p, by), "name", d.model.pieces[p].label);
  });
});
