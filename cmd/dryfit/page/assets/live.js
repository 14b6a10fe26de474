// Getting what the page shows: from the server, which tells of changes, or from the
// scripts beside the page.
"use strict";
(() => {
  const d = window.dryfit;

  // take shows a model; shapes that are not here yet come with get.
  d.take = async (model, get) => {
    const missing = [...new Set(model.pieces.map(p => p.shape).filter(s => s && !d.shapes.has(s)))];
    const queue = missing.slice();
    await Promise.all(Array.from({ length: 6 }, async () => {
      for (let s; (s = queue.pop());) await get(s);
    }));
    const before = d.model, first = !before.kit && !before.pieces.length;
    d.model = model;
    const used = new Set(model.pieces.map(p => p.shape));
    for (const s of [...d.shapes.keys()]) if (!used.has(s)) d.shapes.delete(s);
    d.gl.forget();
    d.scene.load(before);
    d.tell("model");
    d.tell("pick");
    if (first) { d.scene.go(0); d.fit(); } else { d.tell("step"); d.tell("look", false); }
  };

  const say = (text, bad) => {
    const e = d.el("trouble");
    e.hidden = !text;
    e.replaceChildren(...text.split("\n").map(l => d.make("p", {}, l)));
    e.classList.toggle("bad", !!bad);
  };

  d.say = say;

  const shape = async s => {
    const r = await fetch(`shape/${s}`);
    if (!r.ok) throw new Error(`shape ${s}: ${r.status}`);
    d.shape(s, await r.arrayBuffer());
  };

  // follow keeps up with the server; the last good state stays when there is trouble.
  d.follow = () => {
    let busy = Promise.resolve();
    const get = () => busy = busy.then(async () => {
      const r = await fetch("state");
      if (!r.ok) throw new Error(`the server says ${r.status}`);
      const s = await r.json();
      d.ticks.from(s.ticked ?? []);
      if (s.model) await d.take(s.model, shape);
      if (s.model || s.trouble) {
        say((s.trouble ?? []).join("\n"), true);
        ready();
      } else {
        say("The kit is being checked for the first time; large meshes take a while.");
      }
    }).catch(e => say(String(e), true));
    let ready;
    const first = new Promise(done => { ready = done; });
    const events = new EventSource("events");
    events.onmessage = get;
    events.onopen = get; // now, and after a break: what has changed meanwhile was not told
    events.onerror = () => {
      if (events.readyState === EventSource.CLOSED) get().then(() => say("This page does not follow changes: too many others do. Load it again later.", true));
      else say("The server does not answer; what you see is the last state.", true);
    };
    return first;
  };
})();
