// Turning, panning and zooming by mouse, touch and keyboard; the bar below the model.
"use strict";
window.dryfit.parts.push(() => {
  const d = window.dryfit, canvas = d.el("canvas"), scene = d.scene, camera = d.camera;
  const calm = matchMedia("(prefers-reduced-motion: reduce)");

  // pointers: one turns, two pan and zoom, the right button or Shift pans.
  const down = new Map();
  let moved = 0;
  canvas.addEventListener("pointerdown", e => {
    canvas.setPointerCapture(e.pointerId);
    down.set(e.pointerId, { x: e.clientX, y: e.clientY, shift: e.button === 2 || e.shiftKey });
    moved = 0;
  });
  canvas.addEventListener("pointermove", e => {
    const was = down.get(e.pointerId);
    if (!was) return;
    const dx = e.clientX - was.x, dy = e.clientY - was.y;
    moved += Math.abs(dx) + Math.abs(dy);
    const tall = canvas.clientHeight;
    if (down.size === 1) {
      if (was.shift) camera.shift(dx / tall, dy / tall);
      else camera.turn(-dx * 0.4, dy * 0.4);
    } else {
      const other = [...down.entries()].find(([id]) => id !== e.pointerId)[1];
      const before = Math.hypot(was.x - other.x, was.y - other.y), after = Math.hypot(e.clientX - other.x, e.clientY - other.y);
      if (before > 0 && after > 0) camera.zoom(before / after);
      camera.shift(dx / 2 / tall, dy / 2 / tall);
    }
    was.x = e.clientX;
    was.y = e.clientY;
  });
  const up = e => {
    if (down.delete(e.pointerId) && e.type === "pointerup" && moved < 5) {
      const box = canvas.getBoundingClientRect();
      scene.pick(d.gl.at((e.clientX - box.left) * canvas.width / box.width, (e.clientY - box.top) * canvas.height / box.height));
    }
  };
  canvas.addEventListener("pointerup", up);
  canvas.addEventListener("pointercancel", up);
  canvas.addEventListener("contextmenu", e => e.preventDefault());
  canvas.addEventListener("wheel", e => {
    e.preventDefault();
    camera.zoom(Math.exp(Math.max(-100, Math.min(100, e.deltaY)) * 0.0015));
  }, { passive: false });

  const keys = {
    ArrowLeft: () => camera.turn(-10, 0), ArrowRight: () => camera.turn(10, 0),
    ArrowUp: () => camera.turn(0, 10), ArrowDown: () => camera.turn(0, -10),
    "+": () => camera.zoom(0.85), "=": () => camera.zoom(0.85), "-": () => camera.zoom(1.18),
    "0": () => fit(), n: () => next(), b: () => before(), p: () => play(),
  };
  const shifted = {
    ArrowLeft: () => camera.shift(0.05, 0), ArrowRight: () => camera.shift(-0.05, 0),
    ArrowUp: () => camera.shift(0, 0.05), ArrowDown: () => camera.shift(0, -0.05),
  };
  canvas.addEventListener("keydown", e => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const act = (e.shiftKey ? shifted[e.key] : null) ?? keys[e.key];
    if (!act) return;
    e.preventDefault();
    act();
  });

  const fit = () => {
    const { solid } = scene.shown(), box = scene.box(solid.length ? solid : d.model.pieces.map((_, p) => p).filter(scene.has));
    camera.frame(box.low, box.high, canvas.clientWidth / canvas.clientHeight);
  };
  d.fit = fit;
  const next = () => scene.go(scene.step + 1);
  const before = () => scene.go(scene.step - 1);
  d.el("next").addEventListener("click", next);
  d.el("before").addEventListener("click", before);
  d.el("step").addEventListener("input", e => scene.go(Number(e.target.value)));
  d.el("fit").addEventListener("click", fit);

  // playing: the new pieces of each step travel in; with reduced motion the steps change
  // without travel.
  let playing = 0;
  const button = d.el("play");
  const stop = () => {
    cancelAnimationFrame(playing);
    clearTimeout(playing);
    playing = 0;
    button.textContent = "Play";
    button.setAttribute("aria-pressed", "false");
    scene.travel = 1;
    d.emit("redraw", false);
  };
  const play = () => {
    if (playing) return stop();
    button.textContent = "Stop";
    button.setAttribute("aria-pressed", "true");
    if (scene.step >= d.model.steps.length) scene.go(0);
    if (calm.matches) {
      const turn = () => {
        if (scene.step >= d.model.steps.length) return stop();
        scene.go(scene.step + 1);
        playing = setTimeout(turn, 1500);
      };
      playing = setTimeout(turn, 300);
      return;
    }
    let began = 0;
    const turn = now => {
      if (!began || now - began > 1400) {
        if (began && scene.step >= d.model.steps.length) return stop();
        scene.go(scene.step + 1, 0);
        began = now;
      }
      scene.travel = Math.min(1, (now - began) / 1000);
      d.emit("redraw", true);
      playing = requestAnimationFrame(turn);
    };
    playing = requestAnimationFrame(turn);
  };
  d.playing = () => playing !== 0;
  button.addEventListener("click", play);

  d.el("apart").addEventListener("input", e => { scene.apart = Number(e.target.value) / 100; d.emit("redraw", true); });
  const cut = () => {
    scene.cutAxis = ["x", "y", "z"].indexOf(d.el("cut-axis").value);
    scene.cut = Number(d.el("cut").value) / 100;
    d.el("cut").disabled = scene.cutAxis < 0;
    d.emit("redraw", false);
  };
  d.el("cut-axis").addEventListener("input", cut);
  d.el("cut").addEventListener("input", cut);
  d.el("pale").addEventListener("input", e => { scene.pale = e.target.checked; d.emit("redraw", false); });

  d.el("isolate").addEventListener("click", () => { if (scene.picked >= 0) { scene.alone = new Set([scene.picked]); d.emit("redraw", false); } });
  d.el("hide").addEventListener("click", () => { if (scene.picked >= 0) { scene.hidden.add(scene.picked); d.emit("redraw", false); } });
  d.el("all").addEventListener("click", () => { scene.hidden.clear(); scene.alone = null; d.emit("redraw", false); });
  d.on("pick", () => { for (const id of ["isolate", "hide"]) d.el(id).disabled = scene.picked < 0; });

  d.on("step", () => {
    const n = d.model.steps.length, s = d.model.steps[scene.step - 1];
    d.el("step").max = n;
    d.el("step").value = scene.step;
    d.el("step").setAttribute("aria-valuetext", s ? `step ${s.number}: ${s.text}` : "the whole model");
    d.el("next").disabled = scene.step >= n;
    d.el("before").disabled = scene.step <= 0;
    d.el("now").textContent = s ? `Step ${s.number} of ${n}: ${s.text}` : `The whole model, ${d.model.pieces.length} pieces`;
  });
});
