// Starts the page once everything is loaded.
"use strict";
window.addEventListener("DOMContentLoaded", async () => {
  const d = window.dryfit, canvas = d.el("canvas");
  if (!d.gl.start(canvas)) {
    d.el("no3d").hidden = false;
    canvas.hidden = true;
  }
  for (const start of d.parts) start();

  // a frame is drawn only when something has changed, and once more in full quality at
  // rest
  let wanted = false, moving = false, resting = false, rest = 0;
  const size = () => {
    const s = Math.min(window.devicePixelRatio || 1, 2);
    const w = Math.max(1, Math.round(canvas.clientWidth * s)), h = Math.max(1, Math.round(canvas.clientHeight * s));
    if (canvas.width !== w) canvas.width = w;
    if (canvas.height !== h) canvas.height = h;
  };
  const draw = () => {
    wanted = false;
    size();
    d.gl.frame(moving, resting);
    d.emit("drawn");
  };
  const want = () => { if (!wanted) { wanted = true; requestAnimationFrame(draw); } };
  const redraw = m => {
    moving ||= m;
    resting = false;
    clearTimeout(rest);
    rest = setTimeout(() => { moving = false; resting = true; want(); }, 150);
    want();
  };
  d.on("redraw", redraw);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => redraw(false));
  new ResizeObserver(() => redraw(false)).observe(canvas);

  d.on("model", () => {
    const m = d.model;
    document.title = `${m.kit}: dryfit`;
    d.el("kit").textContent = m.kit + (m.revision ? `, revision ${m.revision}` : "");
    d.el("time").textContent = m.time ?? "";
    d.el("note").textContent = [m.schematic ? "A scheme: the kit has no meshes; boxes stand for pieces, laid out by their joins." : "",
      m.simpler ? "Shapes are shown in less detail than the meshes have." : ""].join(" ").trim();
  });
  if (window.dryfitModel) await d.take(window.dryfitModel, async () => { });
  else await d.follow();
  document.body.dataset.ready = "true";
});
