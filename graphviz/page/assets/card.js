// The shapes that are on the graphics card.
"use strict";
window.dryfit.newCard = g => {
  const held = new Map(); // shape -> its buffers

  const put = shape => {
    const places = g.createBuffer();
    g.bindBuffer(g.ARRAY_BUFFER, places);
    g.bufferData(g.ARRAY_BUFFER, shape.places, g.STATIC_DRAW);
    const list = numbers => {
      const a = g.createVertexArray(), b = g.createBuffer();
      g.bindVertexArray(a);
      g.bindBuffer(g.ARRAY_BUFFER, places);
      g.enableVertexAttribArray(0);
      g.vertexAttribPointer(0, 3, g.UNSIGNED_SHORT, true, 6, 0);
      g.bindBuffer(g.ELEMENT_ARRAY_BUFFER, b);
      g.bufferData(g.ELEMENT_ARRAY_BUFFER, numbers, g.STATIC_DRAW);
      g.bindVertexArray(null);
      return { a, b, n: numbers.length };
    };
    return { places, fine: list(shape.fine), coarse: list(shape.coarse), edges: list(shape.edges) };
  };

  return {
    // of uploads a shape when it is first drawn.
    of: shape => {
      if (!held.has(shape)) held.set(shape, put(shape));
      return held.get(shape);
    },

    // keep frees all other shapes, so that a day of changes does not fill the card.
    keep: used => {
      for (const [shape, c] of held) {
        if (used.has(shape)) continue;
        g.deleteBuffer(c.places);
        for (const l of [c.fine, c.coarse, c.edges]) { g.deleteVertexArray(l.a); g.deleteBuffer(l.b); }
        held.delete(shape);
      }
    },

    size: () => held.size,
  };
};
