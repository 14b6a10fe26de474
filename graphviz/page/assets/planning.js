// Plates and days: planning takes time, so it starts when somebody opens the list.
"use strict";
window.dryfit.parts.push(() => {
  const d = window.dryfit, make = d.make.bind(d);

  // listed fills a list when it is opened, and again after a change. The old content stays
  // readable meanwhile, but its links are dead: its steps and pieces may be gone.
  const listed = (name, there, fill) => {
    const tab = d.el(`tab-${name}`), list = d.el(name);
    let filled = null; // the model that it was filled for
    const busy = () => list.getAttribute("aria-busy") === "true";
    list.addEventListener("click", e => { if (busy()) { e.preventDefault(); e.stopPropagation(); } }, true);
    const refresh = async () => {
      const m = d.model;
      if (list.hidden || filled === m || m.unchecked || !there(m)) return;
      filled = m;
      if (!busy()) list.prepend(make("p", { role: "status" }, "Planning…"));
      list.setAttribute("aria-busy", "true");
      const plan = await d.planned(name).catch(() => null);
      if (filled !== m) return; // there was another change meanwhile
      if (!plan) filled = null; // opening it again tries again
      list.removeAttribute("aria-busy");
      d.keepFocus(list, () => list.replaceChildren(...(plan ? fill(plan) : [make("p", {}, "It could not be planned; the commands printing and time say why.")])));
    };
    d.on("tab", refresh);
    d.on("model", () => {
      const focus = tab === document.activeElement || list.contains(document.activeElement);
      tab.hidden = !there(d.model);
      if (tab.hidden && tab.getAttribute("aria-selected") === "true") d.openTab("steps", focus);
      refresh();
    });
  };

  const piece = new Map();
  d.on("model", () => {
    piece.clear();
    d.model.pieces.forEach((q, p) => piece.set(q.id, p));
  });

  const drawing = (name, alt) => make("a", { href: d.file(name), target: "_blank", rel: "noopener" }, make("img", { src: d.file(name), alt, loading: "lazy", class: "drawing" }), "open full size");

  // part names printed pieces; those of the model can be picked.
  const part = x => {
    const known = x.pieces.filter(id => piece.has(id));
    const many = x.pieces.length > 1 ? ` (${x.pieces.length})` : "";
    return make("li", {}, known.length ? d.pickButton(piece.get(known[0]), x.name) : x.name, many);
  };

  listed("plates", m => m.printers, plan => [make("p", {}, plan.says), ...plan.findings.map(d.finding),
    ...plan.plates.map((q, i) => make("article", { class: "plate" }, make("h3", {}, q.title), make("p", {}, q.says),
      drawing(`plate/${i + 1}.svg`, `${q.title}, seen from above`), make("ul", { class: "several" }, ...q.parts.map(part))))]);

  const row = s => make("tr", {}, make("td", {}, s.start), make("td", {}, s.decides ? make("span", { title: "on the critical path" }, "▶") : ""),
    make("td", { class: "what" }, ...(s.number ? [d.goButton(s.number), ": "] : []), s.text), make("td", {}, s.takes), make("td", {}, s.sets));
  const heads = ["Start", "▶", "What", "Takes", "Sets"];
  listed("days", m => m.timed, plan => [make("p", {}, plan.says),
    make("p", {}, "▶ marks the critical path: the steps that decide when the build is done. Start is hours and minutes after work has begun."),
    plan.drawn ? drawing("days.svg", "Chart of the days: a row for each step, with the times of the tables below") : "",
    ...plan.days.map(day => make("table", { class: "times" }, make("caption", {}, `Day ${day.number}`),
      make("thead", {}, make("tr", {}, ...heads.map(h => make("th", { scope: "col" }, h)))), make("tbody", {}, ...day.steps.map(row))))]);
});
