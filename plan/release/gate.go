// Package release says whether a kit may go out to builders, and which files of parts go
// with it.
package release

import (
	"context"
	"fmt"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/mesh/health"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/project"
	"dryfit/plan/testprints"
)

// Gate lists all that keeps a kit from going out, as faults: those of the kit, ill meshes,
// parts without a mesh or a good test print of their present shape, and what the kit
// does not state. With untested, test prints that are missing are cautions. Notes and
// cautions of the kit are left out. The error is that of reading a mesh, or the context's.
func Gate(ctx context.Context, p *plan.Project, untested bool) ([]plan.Finding, error) {
	var list []plan.Finding
	for _, f := range p.Findings {
		if f.Grade == plan.Fault {
			list = append(list, f)
		}
	}
	list = append(list, stated(p.Kit)...)
	list = append(list, meshless(p)...)
	differ, err := copiesDiffer(p)
	if err != nil {
		return nil, err
	}
	list = append(list, differ...)
	ill, err := illAside(ctx, p)
	if err != nil {
		return nil, err
	}
	list = append(list, ill...)
	return append(list, untestedParts(p, untested)...), nil
}

// lacking is a fault of a release.
func lacking(format string, args ...any) plan.Finding {
	return plan.NewFinding(plan.Release, plan.Fault, fmt.Sprintf(format, args...))
}

// stated asks for what a builder must find on a kit.
func stated(k *kits.Kit) []plan.Finding {
	var list []plan.Finding
	for _, v := range []struct{ key, value, why string }{
		{"licence", k.Licence, "what builders may do with the files and the prints"},
		{"revision", k.Revision, "which files belong together"},
		{"contact", k.Contact, "where builders can ask"},
	} {
		if v.value == "" {
			list = append(list, lacking("the kit states no %s: %s", v.key, v.why).Since("the kit file", kits.Pos{File: k.File}).Suggest("add "+v.key+": to the kit file"))
		}
	}
	return list
}

// meshless lists printed parts without a mesh: nobody could print them. Tooling and spare
// parts may be left to the builder.
func meshless(p *plan.Project) []plan.Finding {
	var list []plan.Finding
	for _, inModel := range []bool{true, false} {
		var ids []string
		f := lacking("printed, and without a mesh, so there is no file to give out")
		for _, part := range p.Kit.Parts {
			if part.ToPrint() && part.InModel() == inModel && p.PrintedMesh(part) == nil {
				ids = append(ids, part.ID)
				f = f.Since(part.Label(), part.Pos)
			}
		}
		if len(ids) == 0 {
			continue
		}
		if !inModel {
			f.Grade = plan.Caution
		}
		list = append(list, f.About(ids...).Suggest("add their meshes", "mark them as bought or made"))
	}
	return list
}

// copiesDiffer lists parts whose copies differ in volume or surface: one file would be wrong for
// some of them.
func copiesDiffer(p *plan.Project) ([]plan.Finding, error) {
	ask, _, err := printing.Ask(p)
	if err != nil {
		return nil, err
	}
	var list []plan.Finding
	for _, part := range ask.Parts {
		if part.Differ {
			list = append(list, lacking("the copies of %s differ in volume or surface, and a release has one file for them", part.Of.Label()).About(part.Of.ID).
				Since("part "+part.Of.ID, part.Of.Pos).Suggest("make them parts of their own"))
		}
	}
	return list, nil
}

// illAside examines the meshes of tooling and spare parts. Those of the model were examined
// when the kit was loaded.
func illAside(ctx context.Context, p *plan.Project) ([]plan.Finding, error) {
	var list []plan.Finding
	for _, part := range p.Kit.Parts {
		m := p.PrintedMesh(part)
		if part.InModel() || m == nil {
			continue
		}
		h, err := health.Examine(ctx, m, health.Options{})
		if err != nil {
			return nil, err
		}
		for _, problem := range h.Problems {
			if f, matters := project.ProblemFinding(part.ID, part, problem); matters {
				list = append(list, f)
			}
		}
	}
	return list, nil
}

// untestedParts has a finding for each reason why parts do not count as tested.
func untestedParts(p *plan.Project, allowed bool) []plan.Finding {
	log := testprints.Of(p)
	var list []plan.Finding
	for _, group := range Untested(p) {
		f := lacking("%s: %s", group.Why, english.Count(len(group.Parts), "part"))
		for _, part := range group.Parts {
			f = f.Since(untestedText(log, part), part.Pos)
		}
		f = f.About(kits.PartIDs(group.Parts)...).Suggest("print one of each, and log it: dryfit mark "+kits.Plain(p.Kit.File)+" tested PART --result "+progress.ResultOK,
			"release them with --untested, which the pack then says")
		if allowed {
			f.Grade = plan.Caution
		}
		list = append(list, f)
	}
	return list
}

func untestedText(log *testprints.Log, part *kits.Part) string {
	last := log.Last(part)
	if last == nil {
		return part.Label()
	}
	return fmt.Sprintf("%s: %s on %s", part.Label(), last.Result, last.Date)
}

// UntestedGroup is parts that go out, and that for one reason do not count as test-printed.
type UntestedGroup struct {
	Why   string
	Parts []*kits.Part
}

// Untested lists the parts that go out and were not test-printed well as they are now.
func Untested(p *plan.Project) []UntestedGroup {
	log := testprints.Of(p)
	var list []UntestedGroup
	for _, state := range []testprints.State{testprints.Untested, testprints.Changed, testprints.Bad} {
		group := UntestedGroup{Why: untestedFor[state]}
		for _, part := range p.Kit.Parts {
			if part.ToPrint() && p.PrintedMesh(part) != nil && log.State(part) == state {
				group.Parts = append(group.Parts, part)
			}
		}
		if group.Parts != nil {
			list = append(list, group)
		}
	}
	return list
}

var untestedFor = map[testprints.State]string{
	testprints.Untested: "never test-printed",
	testprints.Changed:  "changed since the last test print",
	testprints.Bad:      "the last test print was not good",
}
