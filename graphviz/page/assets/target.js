// Off-screen images: an antialiased one, which is copied to the screen when done, and one
// whose colours identify the piece at each pixel.
"use strict";
window.dryfit.newTargets = (g, canvas) => {
  const made = {}; // by name

  // target is an image of the size of the canvas; 0 samples for no antialiasing.
  const target = (name, samples) => {
    let t = made[name];
    if (t?.w === canvas.width && t.h === canvas.height) return t;
    if (t) { g.deleteFramebuffer(t.f); for (const b of t.buffers) g.deleteRenderbuffer(b); }
    t = made[name] = { f: g.createFramebuffer(), buffers: [], w: canvas.width, h: canvas.height };
    g.bindFramebuffer(g.FRAMEBUFFER, t.f);
    for (const [place, format] of [[g.COLOR_ATTACHMENT0, g.RGBA8], [g.DEPTH_ATTACHMENT, g.DEPTH_COMPONENT24]]) {
      const b = g.createRenderbuffer();
      t.buffers.push(b);
      g.bindRenderbuffer(g.RENDERBUFFER, b);
      g.renderbufferStorageMultisample(g.RENDERBUFFER, samples, format, t.w, t.h);
      g.framebufferRenderbuffer(g.FRAMEBUFFER, place, g.RENDERBUFFER, b);
    }
    return t;
  };

  const copy = (from, to) => {
    g.bindFramebuffer(g.READ_FRAMEBUFFER, from);
    g.bindFramebuffer(g.DRAW_FRAMEBUFFER, to);
    g.blitFramebuffer(0, 0, canvas.width, canvas.height, 0, 0, canvas.width, canvas.height, g.COLOR_BUFFER_BIT, g.NEAREST);
  };

  return {
    screen: () => g.bindFramebuffer(g.FRAMEBUFFER, null),
    smooth: () => g.bindFramebuffer(g.FRAMEBUFFER, target("smooth", Math.min(4, g.getParameter(g.MAX_SAMPLES))).f),
    pick: () => g.bindFramebuffer(g.FRAMEBUFFER, target("pick", 0).f),

    // show copies the antialiased image to the screen by way of one with one sample per
    // pixel: only such an image may differ in format from the screen.
    show: () => {
      const one = target("pick", 0).f;
      copy(made.smooth.f, one);
      copy(one, null);
      g.bindFramebuffer(g.FRAMEBUFFER, null);
    },
  };
};
