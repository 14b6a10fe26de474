// The view of the model: without perspective, as in the pictures of the booklet.
"use strict";
(() => {
  const d = window.dryfit;
  const camera = d.camera = { around: 215, above: 30, centre: [0, 0, 0], tall: 100 };

  // basis is the directions to the right, up and away from the eye.
  camera.basis = () => {
    const a = camera.around * Math.PI / 180, e = camera.above * Math.PI / 180;
    const away = [-Math.cos(e) * Math.cos(a), -Math.cos(e) * Math.sin(a), -Math.sin(e)];
    const right = [-Math.sin(a), Math.cos(a), 0];
    const up = [-Math.sin(e) * Math.cos(a), -Math.sin(e) * Math.sin(a), Math.cos(e)];
    return { right, up, away };
  };

  camera.turn = (around, above) => {
    camera.around = (camera.around + around + 360) % 360;
    camera.above = Math.max(-90, Math.min(90, camera.above + above));
    d.emit("redraw", true);
  };

  // shift moves the model, in fractions of the height of the view.
  camera.shift = (x, y) => {
    const b = camera.basis();
    for (let k = 0; k < 3; k++) camera.centre[k] -= (b.right[k] * x - b.up[k] * y) * camera.tall;
    d.emit("redraw", true);
  };

  camera.zoom = (by) => {
    camera.tall = Math.max(camera.size / 500, Math.min(camera.size * 20, camera.tall * by));
    d.emit("redraw", true);
  };

  // frame fits the view to a box; wide is the ratio of its width to its height.
  camera.frame = (low, high, wide) => {
    const b = camera.basis();
    const reach = axis => [0, 1, 2].reduce((sum, k) => sum + Math.abs(axis[k]) * (high[k] - low[k]), 0);
    camera.size = Math.max(camera.size ?? 0, Math.hypot(...[0, 1, 2].map(k => high[k] - low[k])) || 10);
    camera.centre = [0, 1, 2].map(k => (low[k] + high[k]) / 2);
    camera.tall = 1.08 * Math.max(reach(b.up), reach(b.right) / wide, 1e-3);
    d.emit("redraw", false);
  };

  // project maps a point of the model to pixels of the view.
  camera.project = (p, width, height) => {
    const b = camera.basis(), s = height / camera.tall;
    const v = [0, 1, 2].map(k => p[k] - camera.centre[k]);
    const dot = a => a[0] * v[0] + a[1] * v[1] + a[2] * v[2];
    return [width / 2 + dot(b.right) * s, height / 2 - dot(b.up) * s];
  };
})();
