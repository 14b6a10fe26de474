package kits

import "time"

// Kinds of fixings. The last three can be undone unless a kit says otherwise.
const (
	Glue   = "glue"
	Press  = "press"
	Screw  = "screw"
	Magnet = "magnet"
	Loose  = "loose"
)

// builtIn lists the fixings every kit knows, with the time until the pieces can
// be handled and until full strength. The times are starting values (common
// practice, the cautious end, in a room at 20 degrees C); a kit can override
// them, and the supplier's data sheet takes precedence.
func builtIn() []*Fixing {
	const m, h = time.Minute, time.Hour
	return []*Fixing{
		{ID: "ca", Kind: Glue, Handle: time.Minute, Cure: 24 * h},   // cyanoacrylate
		{ID: "epoxy", Kind: Glue, Handle: 12 * h, Cure: 24 * h},     // slow, structural
		{ID: "epoxy-fast", Kind: Glue, Handle: 1 * h, Cure: 24 * h}, // called 5-minute
		{ID: "cement", Kind: Glue, Handle: 10 * m, Cure: 24 * h},    // bare polystyrene only
		{ID: "solvent", Kind: Glue, Handle: 5 * m, Cure: 24 * h},
		{ID: "uv-resin", Kind: Glue, Handle: 1 * m, Cure: 1 * m},
		{ID: "clear-glue", Kind: Glue, Handle: 1 * h, Cure: 12 * h}, // water-based, for glazing
		{ID: "press", Kind: Press},
		{ID: "screw", Kind: Screw, Opens: true},
		{ID: "magnet", Kind: Magnet, Opens: true},
		{ID: "loose", Kind: Loose, Opens: true},
	}
}

// opensByKind is whether a kind of fixing can be undone if the kit does not say.
func opensByKind(kind string) bool { return kind == Screw || kind == Magnet || kind == Loose }
