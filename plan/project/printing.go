package project

import (
	"context"
	"path/filepath"

	"dryfit/kits"
	"dryfit/kits/cache"
	"dryfit/kits/mesh"
	"dryfit/kits/stopping"
	"dryfit/plan"
	"dryfit/plan/printing"
)

// printingKind changes with anything that changes what is kept.
const printingKind = "printing-1"

// Printing plans the printing of a kit that names printers. set, if not nil, sets what
// the request leaves open, such as Progress. Parts with neither mesh nor size are
// missing from the plan. What holds each part, and which faces are seen, is kept in
// the user's cache; warn, if not nil, is told if it cannot be.
func Printing(ctx context.Context, p *plan.Project, set func(*printing.Request), warn func(text string)) (made *printing.Plan, missing []*kits.Part, err error) {
	var unknown []*kits.Part
	r, err := stopping.Soon(ctx, func() (r printing.Request, err error) {
		r, unknown, err = printing.Ask(p)
		return r, err
	})
	if err != nil {
		return nil, nil, err
	}
	parts, printers := len(r.Parts), len(r.Printers)
	if set != nil {
		set(&r)
	}
	entry := printingEntry(p)
	r.Known = printing.NewKnown(entry.Read())
	if err := r.See(ctx, p); err != nil {
		return nil, nil, err
	}
	if made, err = printing.Make(ctx, r); err != nil {
		return nil, nil, err
	}
	data, err := r.Known.Keep(len(r.Parts) < parts || len(r.Printers) < printers)
	if err == nil && data != nil {
		err = entry.Write(data)
	}
	if err != nil && warn != nil {
		warn("what was measured for printing could not be saved: " + err.Error())
	}
	return made, unknown, nil
}

// printingEntry is the cache entry of a kit's printing. Its name follows from the
// meshes and printers; what is in it is by content.
func printingEntry(p *plan.Project) *cache.Entry {
	content := mesh.Hashes(p.Meshes.All())
	for _, printer := range p.Kit.Printers {
		content = append(content, []byte(printer.ID))
	}
	return cache.NewEntry(printingKind, filepath.Join(filepath.Dir(p.Kit.File), p.Kit.Meshes), content...)
}
