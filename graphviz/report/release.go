package report

import (
	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
)

// ReleaseData is what came of a release.
type ReleaseData struct {
	Kit      string         `json:"kit"`      // name of the kit
	OK       bool           `json:"ok"`       // the release was written
	File     string         `json:"file"`     // the archive; empty if it was refused
	Files    int            `json:"files"`    // in the archive
	Findings []plan.Finding `json:"findings"` // what keeps the kit from going out; cautions
}

// Release reports that a release of so many files was written, or why it was refused.
func Release(p *plan.Project, found []plan.Finding, file string, files int) *Report {
	out := ReleaseData{Kit: p.Kit.Name, OK: plan.CountOf(found, plan.Fault) == 0, Findings: complete(found)}
	var b blocks
	if !out.OK {
		b.text("%s is not released: %s to fix.", kits.Plain(p.Kit.Name), english.Count(plan.CountOf(found, plan.Fault), "fault"))
		return newReport(p.Kit, false, b, nil, out)
	}
	out.File, out.Files = file, files
	b.text("wrote %s: %s, revision %s, %s", kits.Plain(file), kits.Plain(p.Kit.Name), kits.Plain(p.Kit.Revision), english.Count(files, "file"))
	return newReport(p.Kit, true, []document.Block(b), nil, out)
}
