// The lists beside the model: steps, findings, last calls, tree and parts; and the search.
"use strict";
window.dryfit.parts.push(() => {
  const d = window.dryfit, scene = d.scene, make = d.make.bind(d);
  const tabs = [...document.querySelectorAll("[role=tab]")];

  const open = (tab, focus) => {
    for (const t of tabs) {
      const on = t === tab;
      t.setAttribute("aria-selected", on);
      t.tabIndex = on ? 0 : -1;
      d.el(t.getAttribute("aria-controls")).hidden = !on;
    }
    if (focus) tab.focus();
    d.emit("tab");
  };
  tabs.forEach(t => {
    t.addEventListener("click", () => open(t));
    t.addEventListener("keydown", e => {
      const there = tabs.filter(t => !t.hidden), i = there.indexOf(t);
      const to = { ArrowRight: i + 1, ArrowLeft: i - 1, Home: 0, End: there.length - 1 }[e.key];
      if (to === undefined) return;
      e.preventDefault();
      open(there[(to + there.length) % there.length], true);
    });
  });
  d.openTab = (name, focus) => open(d.el(`tab-${name}`), focus);

  const go = d.goButton = n => make("button", { type: "button", class: "link", onclick: () => scene.go(n) }, `step ${n}`);
  const pick = d.pickButton = (p, text) => make("button", { type: "button", class: "link", onclick: () => show(p) }, text ?? d.model.pieces[p].label);

  // show picks a piece, and goes to the step that fits it if it is not there yet.
  const show = p => {
    const { solid } = scene.shown();
    if (!solid.includes(p)) {
      scene.hidden.delete(p);
      if (scene.alone && !scene.alone.has(p)) scene.alone = null;
      if (!scene.shown().solid.includes(p)) scene.go(d.model.pieces[p].step || 0);
    }
    scene.pick(p);
  };

  const cautions = list => make("ul", { class: "cautions" }, ...list.map(c => make("li", {}, c)));
  const steps = () => {
    const list = make("ol", { class: "steps" });
    let build = -1;
    for (const s of d.model.steps) {
      if (s.build !== build) {
        build = s.build;
        const b = d.model.builds[build];
        list.append(make("li", { class: "build" }, b && build > 0 ? `Sub-build ${b.letter}: ${b.name}` : "Main build"));
      }
      list.append(make("li", {}, make("button", { type: "button", "data-step": s.number, onclick: () => scene.go(s.number) },
        ...(s.undo ?? []).map(text => make("small", {}, text)), make("b", {}, String(s.number)), " ", s.text, ...(s.redo ?? []).map(text => make("small", {}, text)), s.note ? make("small", {}, s.note) : null,
        s.last_call.length ? make("small", { class: "call" }, `last call: ${s.last_call.length}`) : null), s.cautions.length ? cautions(s.cautions) : null));
    }
    d.el("steps").replaceChildren(d.model.proven ? "" : make("p", { class: "warn" }, "There is no proven order; the steps are listed as the file suggests."),
      make("details", {}, make("summary", {}, "Cautions"), cautions(d.model.cautions)), list);
  };

  d.finding = f => make("article", { class: `finding ${f.grade}` },
    make("h3", {}, `${{ fault: "✕", caution: "△", note: "·" }[f.grade]} ${f.grade}: ${f.kind}`),
    make("p", {}, f.text),
    f.because?.length ? make("ol", {}, ...f.because.map(b => make("li", {}, b.text, b.at ? make("small", {}, b.at) : null))) : null,
    f.repairs?.length ? make("p", {}, f.repairs.every(r => r.tried) ? "any one of these fixes it" : "what to do") : null,
    f.repairs?.length ? make("ul", {}, ...f.repairs.map(r => make("li", {}, r.text))) : null,
    ...names(f));
  const findings = () => {
    const list = d.model.findings.map(d.finding);
    const none = d.phase() === "current" ? "No findings: every piece can reach its seat." : "No findings in the last good state, which is not the present one.";
    d.el("findings").replaceChildren(...(list.length ? list : [make("p", {}, none)]));
    d.el("tab-findings").textContent = list.length ? `Findings (${list.length})` : "Findings";
  };
  const names = f => {
    const wanted = new Set(f.pieces?.length ? f.pieces : [f.piece]);
    return d.model.pieces.flatMap((q, p) => wanted.has(q.id) ? [make("p", {}, "show ", pick(p))] : []);
  };

  const boxes = new Map(); // to tick -> their line of a last call
  const calls = () => {
    boxes.clear();
    const list = d.model.steps.filter(s => s.last_call.length).map(s => make("fieldset", {},
      make("legend", {}, "Before ", go(s.number), ": ", s.text),
      ...s.last_call.map(call => {
        const box = make("input", { type: "checkbox" });
        boxes.set(box, call);
        box.checked = d.ticks.has(call);
        box.addEventListener("input", async () => {
          const why = await d.ticks.set(call, box.checked).catch(String);
          if (why) { d.emit("ticks"); d.say(why); }
        });
        return make("label", {}, box, " ", call.text);
      })));
    d.el("calls").replaceChildren(...(list.length ? list : [make("p", {}, "No step shuts anything for good.")]));
  };
  d.on("ticks", () => { for (const [box, call] of boxes) box.checked = d.ticks.has(call); });

  const tree = () => {
    const m = d.model;
    const node = u => make("li", {},
      make("button", { type: "button", class: "link", onclick: () => scene.go(m.builds[u].joins || m.steps.length) }, u > 0 ? `${m.builds[u].letter}: ${m.builds[u].name}` : "Main build"),
      u > 0 ? make("small", {}, `joins at step ${m.builds[u].joins}`) : null,
      make("ul", {}, ...m.builds.flatMap((b, i) => b.into === u ? [node(i)] : []),
        ...m.pieces.flatMap((q, p) => q.step && m.steps[q.step - 1].build === u ? [make("li", { class: "leaf", "data-piece": p }, pick(p), make("small", {}, `step ${q.step}`))] : [])));
    d.el("tree").replaceChildren(m.builds.length ? make("ul", { class: "tree" }, node(0)) : make("p", {}, "The kit has no joins."));
  };

  const parts = () => {
    const rows = d.model.parts.map(q => make("tr", {}, make("th", { scope: "row" }, q.number), make("td", { class: "count" }, String(q.quantity)),
      make("td", {}, q.pieces.length ? make("button", { type: "button", class: "link", onclick: () => show(q.pieces[0]) }, q.name) : q.name, q.note ? make("small", {}, q.note) : null),
      make("td", {}, ...(q.steps ?? []).flatMap(n => [go(n), " "]))));
    d.el("parts").replaceChildren(make("table", { class: "parts" }, make("caption", {}, `${d.model.pieces.length} pieces of ${rows.length} parts`),
      make("thead", {}, make("tr", {}, ...["No.", "Qty", "Name", "Step"].map(h => make("th", { scope: "col" }, h)))), make("tbody", {}, ...rows)));
  };

  // search: in which step is a part fitted?
  const box = d.el("search"), hits = d.el("hits");
  const search = () => {
    const words = box.value.toLowerCase().split(/\s+/).filter(Boolean);
    if (!words.length) return hits.replaceChildren();
    const found = d.model.pieces.flatMap((q, p) => words.every(w => `${q.label} ${q.id} ${q.number}`.toLowerCase().includes(w)) ? [p] : []);
    hits.replaceChildren(make("p", { role: "status" }, found.length ? `${found.length} found` : "nothing found"),
      make("ul", {}, ...found.slice(0, 30).map(p => make("li", {}, pick(p), d.model.pieces[p].step ? make("small", {}, `comes in step ${d.model.pieces[p].step}`) : make("small", {}, "the base of its group")))));
  };
  box.addEventListener("input", search);
  box.addEventListener("keydown", e => {
    if (e.key === "Enter") { hits.querySelector("button")?.click(); e.preventDefault(); }
    if (e.key === "Escape") { box.value = ""; search(); }
  });

  // the picture of the step, as in the booklet, for those who cannot see the model in 3D
  const drawing = d.el("drawing"), picture = d.el("picture");
  const drawn = () => {
    const s = d.model.steps[scene.step - 1];
    if (!drawing.open) return;
    d.el("nopicture").hidden = !!s;
    picture.hidden = !s;
    if (!s) return;
    picture.alt = s.text;
    picture.src = d.file(`picture/${s.number}.svg`);
  };
  picture.addEventListener("error", () => { picture.hidden = true; d.el("nopicture").hidden = false; });
  picture.addEventListener("load", () => { picture.hidden = false; d.el("nopicture").hidden = true; });
  drawing.addEventListener("toggle", drawn);
  d.on("step", drawn);

  // reveal scrolls the list to a step, but never the page: on a small screen the model
  // would go out of sight.
  const reveal = b => {
    const list = d.el("steps"), box = list.getBoundingClientRect(), at = b.getBoundingClientRect();
    if (at.top < box.top) list.scrollTop -= box.top - at.top;
    else if (at.bottom > box.bottom) list.scrollTop += at.bottom - box.bottom;
  };
  const mark = () => {
    for (const b of document.querySelectorAll("[data-step]")) {
      const on = Number(b.dataset.step) === scene.step;
      if (on) b.setAttribute("aria-current", "step"); else b.removeAttribute("aria-current");
      if (on) reveal(b);
    }
    const p = scene.picked, q = d.model.pieces[p];
    d.el("picked").textContent = q ? `${q.label}: ${q.step ? `comes in step ${q.step}` : "the base of its group"}${q.stuck ? `; ${q.stuck}` : ""}` : "";
    for (const leaf of document.querySelectorAll("[data-piece]")) leaf.classList.toggle("picked", Number(leaf.dataset.piece) === p);
  };
  d.on("step", mark);
  d.on("pick", mark);
  d.on("phase", () => { if (d.model.kit && !d.model.findings.length) findings(); });
  d.on("model", () => {
    d.keepFocus(d.el("panel"), () => { for (const f of [steps, findings, calls, tree, parts, search]) f(); });
    mark();
  });
});
