// The one object that all scripts of the page share, with the helpers that all need.
"use strict";
window.dryfit = {
  // what the page shows, see model.go; empty until it is loaded
  model: { kit: "", pieces: [], steps: [], builds: [], findings: [], clashes: [], parts: [] },
  shapes: new Map(),      // name of a shape -> its numbers
  parts: [],              // what each script does when the page starts
  listeners: {},

  on(event, listener) { (this.listeners[event] ??= []).push(listener); },
  emit(event, ...args) { for (const f of this.listeners[event] ?? []) f(...args); },

  el(id) { return document.getElementById(id); },

  // make builds an element; children may be elements or plain text. Texts of a kit are
  // never parsed as markup.
  make(tag, attributes, ...children) {
    const e = document.createElement(tag);
    for (const [k, v] of Object.entries(attributes ?? {})) {
      if (v === true) e.setAttribute(k, "");
      else if (k.startsWith("on")) e.addEventListener(k.slice(2), v);
      else if (v !== false && v != null) e.setAttribute(k, v);
    }
    for (const c of children) if (c != null) e.append(c);
    return e;
  },

  // file is the address of a file that belongs to the current model.
  file(name) { return this.tag ? `${name}?${this.tag}` : name; },

  // keepFocus keeps the focus when the content of an element changes: on the element of the
  // same kind and text, the same one of several; or else on the list that it was in.
  keepFocus(element, change) {
    const like = e => `${e.tagName} ${e.type} ${(e.closest("label") ?? e).textContent}`;
    const all = () => [...element.querySelectorAll("button, input, a, select")];
    const was = document.activeElement, kept = element.contains(was) && was !== element;
    const home = kept ? was.parentElement.closest("[tabindex]") : null;
    const name = kept ? like(was) : "", place = kept ? all().filter(e => like(e) === name).indexOf(was) : 0;
    change();
    if (!kept || element.contains(document.activeElement) && document.activeElement !== element) return;
    const now = all().filter(e => like(e) === name);
    (now[Math.min(place, now.length - 1)] ?? home).focus({ preventScroll: true });
  },

  // shape reads a binary shape, see shape.go.
  shape(name, buffer) {
    const [corners, triangles, coarse, edges] = new Uint32Array(buffer, 0, 4);
    const box = new Float32Array(buffer, 16, 6);
    let at = 40;
    const places = new Uint16Array(buffer, at, 3 * corners);
    at += 4 * Math.ceil(6 * corners / 4);
    const lists = [3 * triangles, 3 * coarse, 2 * edges].map(n => {
      const list = new Uint32Array(buffer, at, n);
      at += 4 * n;
      return list;
    });
    this.shapes.set(name, { box, places, fine: lists[0], coarse: lists[1], edges: lists[2] });
  },

  // packed reads a shape that a script holds in base64.
  packed(name, text) {
    const raw = atob(text), bytes = new Uint8Array(raw.length);
    for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
    this.shape(name, bytes.buffer);
  },
};
