// Loads what the page shows: from the server, which announces changes, or from the scripts
// beside the page.
"use strict";
(() => {
  const d = window.dryfit;

  const batch = 64; // shapes per request, the limit of the server

  // take shows a model, and first gets its missing shapes in batches. The tag is the
  // server's name for the model.
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
    d.emit("model");
    d.emit("pick");
    if (!first) {
      d.emit("step");
      d.emit("redraw", false);
      return;
    }
    d.scene.go(0);
    d.fit();
    d.emit("redraw", true); // at once in less detail where drawing is slow, then in full
  };

  const say = (text, bad) => {
    const e = d.el("trouble");
    e.hidden = !text;
    e.replaceChildren(...text.split("\n").map(l => d.make("p", {}, l)));
    e.classList.toggle("bad", !!bad);
  };

  d.say = say;

  // shapes fetches several shapes: they follow one another, each after its length.
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

  // planned fetches a plan by its name, see extras.go.
  d.planned = async name => {
    if (window.dryfitModel) return { plates: window.dryfitPlates, days: window.dryfitDays }[name];
    const r = await fetch(d.file(`${name}.json`));
    return r.ok ? r.json() : null;
  };

  // follow keeps up with the server; after an error the last good state stays.
  d.follow = () => {
    let ready;
    const first = new Promise(done => { ready = done; });
    let busy = Promise.resolve();
    const get = () => busy = busy.then(async () => {
      const r = await fetch(`state?have=${d.tag ?? ""}`);
      if (!r.ok) throw new Error(`the server says ${r.status}`);
      const s = await r.json();
      if (s.model) await d.take(s.model, shapes, s.status.tag);
      d.hear(s.status);
      d.ticks.from(s.ticked);
      say((s.trouble ?? []).join("\n"), true);
      if (s.status.tag || s.status.phase === "broken") ready();
    }).catch(e => say(String(e), true));
    const events = new EventSource("events");
    events.onmessage = get;
    events.onopen = get; // now, and after a break, for changes in between were not announced
    events.addEventListener("status", e => d.hear(JSON.parse(e.data)));
    events.onerror = () => {
      if (events.readyState === EventSource.CLOSED) get().then(() => d.lose("this page does not follow changes, because too many others do: reload it later"));
      else d.lose("the server is gone");
    };
    return first;
  };
})();
