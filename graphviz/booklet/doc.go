// Package booklet words the illustrated instructions of a kit from its proven order, so
// that they can never show a step that cannot be done, and checks a booklet against the
// rules of good instructions.
package booklet
