// What has been ticked off, by the ids of the lines of last calls: kept by the server in the
// progress file, or by the browser for a page without a server.
"use strict";
(() => {
  const d = window.dryfit;
  let kept = null; // ids, from the server
  const name = () => `dryfit ticks ${d.model.kit}`;
  const own = () => { try { return JSON.parse(localStorage.getItem(name())) ?? []; } catch { return []; } };
  // sentence is what pages of older versions kept instead of an id.
  const sentence = call => d.model.steps.flatMap(s => s.last_call.includes(call) ? [`${s.text}: ${call.text}`] : [])[0];
  d.ticks = {
    // from takes what the server knows; null while it cannot say.
    from: ids => {
      if (ids || !kept) kept = new Set(ids);
      d.emit("ticks");
    },
    has: call => {
      if (kept) return kept.has(call.id);
      const list = own();
      return list.includes(call.id) || list.includes(sentence(call));
    },
    // set ticks a line off or takes that back; the answer says why it could not, if so.
    set: async (call, on) => {
      const id = call.id;
      if (!kept) {
        const list = own().filter(k => k !== id && k !== sentence(call));
        if (on) list.push(id);
        try { localStorage.setItem(name(), JSON.stringify(list)); } catch { /* a browser that keeps nothing */ }
        return "";
      }
      const r = await fetch("tick", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ id, on }) });
      if (!r.ok) return r.text();
      if (on) kept.add(id); else kept.delete(id);
      return "";
    },
  };
})();
