// Getting what the page shows: from the server, which tells of changes, or from the
// scripts beside the page.
"use strict";
(() => {
  const d = window.dryfit;

  const batch = 64; // shapes in a request; the server gives so many

  // take shows a model; shapes that are not here yet come with get, so many at a time.
  // The tag is what the server calls it.
  d.take = async (model, get, tag) => {
    const missing = [...new Set(model.pieces.map(p => p.shape).filter(s => s && !d.shapes.has(s)))];
    const batches = Array.from({ length: Math.ceil(missing.length / batch) }, (_, i) => missing.slice(i * batch, (i + 1) * batch));
    await Promise.all(batches.map(get));
    const before = d.model, first = !before.kit && !before.pieces.length;
    d.model = model;
    d.tag = tag;
    const used = new Set(model.pieces.map(p => p.shape));
    for (const s of [...d.shapes.keys()]) if (!used.has(s)) d.shapes.delete(s);
    d.gl.forget();
    d.scene.load(before);
    d.tell("model");
    d.tell("pick");
    if (!first) {
      d.tell("step");
      d.tell("look", false);
      return;
    }
    d.scene.go(0);
    d.fit();
    d.tell("look", true); // at once in less detail where drawing is slow, then in full
  };

  const say = (text, bad) => {
    const e = d.el("trouble");
    e.hidden = !text;
    e.replaceChildren(...text.split("\n").map(l => d.make("p", {}, l)));
    e.classList.toggle("bad", !!bad);
  };

  d.say = say;

  // shapes asks for several shapes: they come one after another, each after its length.
  const shapes = async names => {
    const r = await fetch(`shape/${names.join(",")}`);
    if (!r.ok) throw new Error(`shapes: ${r.status}`);
    const all = await r.arrayBuffer(), numbers = new DataView(all);
    let at = 0;
    for (const s of names) {
      const long = numbers.getUint32(at, true);
      d.shape(s, all.slice(at + 4, at + 4 + long));
      at += 4 + long;
    }
  };

  // planned is a plan by its name, see extras.go.
  d.planned = async name => {
    if (window.dryfitModel) return { plates: window.dryfitPlates, days: window.dryfitDays }[name];
    const r = await fetch(d.file(`${name}.json`));
    return r.ok ? r.json() : null;
  };

  // follow keeps up with the server; the last good state stays when there is trouble.
  d.follow = () => {
    let busy = Promise.resolve();
    const get = () => busy = busy.then(async () => {
      const r = await fetch(`state?have=${d.tag ?? ""}`);
      if (!r.ok) throw new Error(`the server says ${r.status}`);
      const s = await r.json();
      if (s.model) await d.take(s.model, shapes, s.tag);
      d.ticks.from(s.ticked);
      if (s.number) {
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
