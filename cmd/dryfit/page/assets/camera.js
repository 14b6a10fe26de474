// Where the model is looked at from: without perspective, as in the pictures of the
// booklet.
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
    d.tell("look", true);
  };

  // shift moves the model by parts of the height of the view.
  camera.shift = (x, y) => {
    const b = camera.basis();
    for (let k = 0; k < 3; k++) camera.centre[k] -= (b.right[k] * x - b.up[k] * y) * camera.tall;
    d.tell("look", true);
  };

  camera.zoom = (by) => {
    camera.tall = Math.max(camera.size / 500, Math.min(camera.size * 20, camera.tall * by));
    d.tell("look", true);
  };

  // frame looks at a box so that all of it is seen.
  camera.frame = (low, high, wide) => {
    const size = Math.hypot(high[0] - low[0], high[1] - low[1], high[2] - low[2]) || 10;
    camera.size = Math.max(camera.size ?? 0, size);
    camera.centre = [0, 1, 2].map(k => (low[k] + high[k]) / 2);
    camera.tall = size * 1.05 / Math.min(1, wide);
    d.tell("look", false);
  };

  // project gives a place in pixels of the view.
  camera.project = (p, width, height) => {
    const b = camera.basis(), s = height / camera.tall;
    const v = [0, 1, 2].map(k => p[k] - camera.centre[k]);
    const dot = a => a[0] * v[0] + a[1] * v[1] + a[2] * v[2];
    return [width / 2 + dot(b.right) * s, height / 2 - dot(b.up) * s];
  };
})();
