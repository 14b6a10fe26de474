// What has been ticked off, kept by the browser for this kit.
"use strict";
(() => {
  const d = window.dryfit;
  const name = () => `dryfit ticks ${d.model.kit}`;
  const read = () => { try { return JSON.parse(localStorage.getItem(name())) ?? []; } catch { return []; } };
  d.ticks = {
    has: key => read().includes(key),
    set: (key, on) => {
      const list = read().filter(k => k !== key);
      if (on) list.push(key);
      try { localStorage.setItem(name(), JSON.stringify(list)); } catch { /* a browser that keeps nothing */ }
    },
  };
})();
