// How what is shown stands to the files on disk, in words and looks. Only what was checked,
// and has not changed since, is shown as good.
"use strict";
window.dryfit.parts.push(() => {
  const d = window.dryfit;
  const silence = 15000; // ms without a word after which the server is taken to be gone; it beats every 5 s
  let status = null, lost = "", watchdog = 0;

  const clock = ms => new Date(ms).toLocaleTimeString("en-GB");
  const alone = !!window.dryfitModel; // without a server there is nothing to follow

  // phase is that of the server, unless the page is behind it.
  const phase = d.phase = () => {
    if (alone) return "current";
    if (lost) return "gone";
    if (!status) return "checking";
    return status.phase === "current" && status.tag !== d.tag ? "loading" : status.phase;
  };

  // verdict is the line in the head: a sign, words and a look.
  const verdict = () => {
    const there = status?.shown || 0, at = there ? clock(there) : "", since = status?.cause ? ` since ${status.cause}` : "";
    const kept = at ? `; you see the last good state, of ${at}` : "";
    switch (phase()) {
      case "checking": return ["wait", at ? `◌ being checked again${since}` : "◌ being checked for the first time"];
      case "loading": return ["wait", "◌ a new state has been checked and is being fetched"];
      case "out of date": return ["wait", at ? `◌ out of date${since}` : "◌ waiting for the files to be whole"];
      case "broken": return ["bad", `✕ broken: the files cannot be read${kept}`];
      case "gone": return ["bad", `✕ ${lost}${kept}`];
    }
    const faults = d.model.findings.filter(f => f.grade === "fault").length;
    return faults ? ["bad", `✕ ${faults} ${faults === 1 ? "fault" : "faults"}`] : ["good", "✓ every piece can reach its seat"];
  };

  const put = (e, text) => { if (e.textContent !== text) e.textContent = text; }; // or it would be read out again
  let before = "";
  const show = () => {
    const now = phase(), [look, text] = verdict(), at = status?.shown ? clock(status.shown) : "";
    put(d.el("state"), text);
    d.el("state").className = look;
    const working = now === "checking" && status?.doing;
    d.el("far").hidden = !working;
    if (working) {
      d.el("share").value = status.share;
      put(d.el("doing"), `${status.doing}, ${Math.floor(100 * status.share)}\u00a0%, begun ${clock(status.since)}`);
    }
    document.body.dataset.phase = now;
    put(d.el("old"), now === "current" || !d.model.kit ? "" : d.model.unchecked ? "changed meshes, not checked yet" : `last good state, of ${at}`);
    if (now !== before) {
      before = now;
      d.emit("phase");
    }
  };
  d.on("model", show);

  // hear takes the status that the server sent, unless a newer one has arrived before.
  d.hear = s => {
    clearTimeout(watchdog);
    watchdog = setTimeout(() => d.lose("the server is gone"), silence);
    if (!status || s.version >= status.version) status = s;
    lost = "";
    show();
  };
  // lose says why the page is no longer followed by the server.
  d.lose = why => {
    clearTimeout(watchdog);
    lost = why;
    show();
  };
  show();
});
