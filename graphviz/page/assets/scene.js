// Which pieces are there at a step, where each is, and how it is shown.
"use strict";
(() => {
  const d = window.dryfit;
  const scene = d.scene = { step: 0, travel: 1, apart: 0, picked: -1, hidden: new Set(), alone: null, pale: false, cutAxis: -1, cut: 1 };
  let blockers = new Set(), carried = new Map();

  // group lists the pieces that a step shows: those that it moves, those that it works on,
  // and so on back along the steps that it follows. A task shows what the step before does.
  const group = n => {
    if (group.step === n) return group.list;
    const chain = [];
    for (let k = n; k > 0;) {
      const s = d.model.steps[k - 1];
      chain.push(s);
      k = s.after || (s.still.length || s.movers.length ? 0 : k - 1);
    }
    const all = new Set();
    for (const s of chain.reverse()) for (const p of own(s)) all.add(p);
    group.step = n;
    return group.list = [...all];
  };
  const own = s => s.still.concat(...s.movers.map(x => x.pieces));

  // load takes a new model. The current step and pieces of the old
  // model are found again by text and id, for a change shifts their numbers.
  scene.load = old => {
    const m = d.model;
    blockers = new Set(m.pieces.flatMap(p => p.by ?? []));
    carried = new Map();
    group.step = -1;
    const at = new Map(m.pieces.map((p, i) => [p.id, i]));
    const now = p => at.get(old.pieces[p]?.id) ?? -1;
    const kept = list => new Set([...list].map(now).filter(p => p >= 0));
    scene.picked = now(scene.picked);
    scene.hidden = kept(scene.hidden);
    if (scene.alone) scene.alone = kept(scene.alone);
    if (scene.alone && !scene.alone.size) scene.alone = null;
    const was = old.steps[scene.step - 1], same = was ? m.steps.findIndex(s => s.text === was.text) + 1 : 0;
    scene.step = same || Math.min(scene.step, m.steps.length);
  };

  // carry lists what moves along when movers are pulled from their seats in the finished
  // model: themselves and whatever was fitted onto them later.
  const carry = (i, x) => {
    if (carried.has(x)) return carried.get(x);
    const all = new Set(x.pieces);
    for (const s of d.model.steps.slice(i + 1)) for (const y of s.movers) {
      const onto = s.onto >= 0 ? s.onto : s.pieces.find(p => !y.pieces.includes(p));
      if (all.has(onto)) for (const p of y.pieces) all.add(p);
    }
    carried.set(x, all);
    return all;
  };

  scene.has = p => !!d.model.pieces[p].shape || d.model.schematic;

  // shown lists the pieces of a step, and those of other builds finished by then.
  scene.shown = () => {
    const m = d.model, n = scene.step;
    const all = n >= m.steps.length || n === 0;
    const now = all ? m.pieces.map((_, p) => p) : group(n);
    const here = new Set(now), pale = [];
    if (!all && scene.pale) {
      const done = new Set();
      for (let i = 0; i < n; i++) for (const p of own(m.steps[i])) done.add(p);
      for (const p of done) if (!here.has(p)) pale.push(p);
    }
    const wanted = p => scene.has(p) && !scene.hidden.has(p) && (!scene.alone || scene.alone.has(p));
    return { solid: now.filter(wanted), pale: pale.filter(wanted) };
  };

  // reach is how far from their seat movers start their travel.
  const reach = x => {
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
    for (const p of x.pieces) for (let k = 0; k < 3; k++) {
      low[k] = Math.min(low[k], d.model.pieces[p].min[k]);
      high[k] = Math.max(high[k], d.model.pieces[p].max[k]);
    }
    const size = [0, 1, 2].map(k => high[k] - low[k]), t = x.way[0].toward;
    return 1.2 * (Math.abs(size[0] * t[0]) + Math.abs(size[1] * t[1]) + Math.abs(size[2] * t[2])) + 0.4 * Math.hypot(...size);
  };

  // back is the offset of movers from their seat after a share of their way, 0 to 1.
  const back = (x, share) => {
    const by = [0, 0, 0];
    if (!x.way.length) return by;
    const long = x.way.map((l, i) => i === 0 ? reach(x) : l.distance);
    let left = (1 - share) * long.reduce((a, b) => a + b, 0);
    for (let i = x.way.length - 1; i >= 0 && left > 0; i--) {
      const part = Math.min(left, long[i]);
      for (let k = 0; k < 3; k++) by[k] -= x.way[i].toward[k] * part;
      left -= part;
    }
    return by;
  };

  // offsets says how far each piece is from its seat: on its way in this step, or pulled
  // apart along the ways of earlier steps, with what sits on it.
  scene.offsets = () => {
    const m = d.model, out = new Map();
    const add = (p, by) => {
      const o = out.get(p) ?? [0, 0, 0];
      for (let k = 0; k < 3; k++) o[k] += by[k];
      out.set(p, o);
    };
    const last = scene.step === 0 ? m.steps.length : scene.step;
    for (let i = 0; i < last; i++) {
      for (const x of m.steps[i].movers) {
        const here = i + 1 === scene.step && scene.travel < 1;
        const share = here ? Math.min(scene.travel, 1 - 0.7 * scene.apart) : 1 - 0.7 * scene.apart;
        if (share >= 1) continue;
        const by = back(x, share);
        for (const p of carry(i, x)) add(p, by);
      }
    }
    return out;
  };

  // way is the offset at which a piece starts its travel; null if its way is not known.
  scene.way = p => {
    for (const s of d.model.steps) {
      const x = s.movers.find(x => x.pieces.includes(p));
      if (x?.way.length) return back(x, 0);
    }
    return null;
  };

  // role says how a piece is to be shown.
  scene.role = p => {
    const m = d.model, piece = m.pieces[p];
    if (piece.stuck) return "stuck";
    if (blockers.has(p)) return "blocker";
    const s = m.steps[scene.step - 1];
    if (s && s.movers.some(x => x.pieces.includes(p))) return "new";
    if (s && s.kind === "thread" && s.pieces.includes(p)) return "new";
    return "";
  };

  // box is the bounding box of pieces at their current positions.
  scene.box = list => {
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity], by = scene.offsets();
    for (const p of list) {
      const o = by.get(p) ?? [0, 0, 0], q = d.model.pieces[p];
      for (let k = 0; k < 3; k++) {
        low[k] = Math.min(low[k], q.min[k] + o[k]);
        high[k] = Math.max(high[k], q.max[k] + o[k]);
      }
    }
    return list.length ? { low, high } : { low: [0, 0, 0], high: [1, 1, 1] };
  };

  // go shows a step. The view stays within a build, and is fitted again for another.
  scene.go = (step, travel = 1) => {
    const m = d.model, build = n => n === 0 || n === m.steps.length ? "whole" : m.steps[n - 1].build;
    const before = build(scene.step);
    scene.step = Math.max(0, Math.min(m.steps.length, step));
    scene.travel = travel;
    d.emit("step");
    if (before !== build(scene.step)) d.fit();
    d.emit("redraw", false);
  };

  scene.pick = p => {
    scene.picked = p;
    d.emit("pick");
    d.emit("redraw", false);
  };
})();
