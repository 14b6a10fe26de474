// What has been ticked off: kept by the server in the progress file, or by the browser
// for a page that has no server.
"use strict";
(() => {
  const d = window.dryfit;
  let kept = null; // lines, from the server
  const name = () => `dryfit ticks ${d.model.kit}`;
  const own = () => { try { return JSON.parse(localStorage.getItem(name())) ?? []; } catch { return []; } };
  d.ticks = {
    line: (step, text) => `${step.text}: ${text}`,
    // from takes what the server knows; null is that it cannot tell now.
    from: lines => {
      if (lines || !kept) kept = new Set(lines);
      d.tell("ticks");
    },
    has: line => kept ? kept.has(line) : own().includes(line),
    set: async (line, on) => {
      if (!kept) {
        const list = own().filter(k => k !== line);
        if (on) list.push(line);
        try { localStorage.setItem(name(), JSON.stringify(list)); } catch { /* a browser that keeps nothing */ }
        return "";
      }
      const r = await fetch("tick", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ line, on }) });
      if (!r.ok) return r.text();
      if (on) kept.add(line); else kept.delete(line);
      return "";
    },
  };
})();
