package plan

import "regexp"

// Forms in which metal and fibre are bought.
const (
	weights = `(?:shots?|ballast|(?:fishing |nose |wheel |split )*(?:shots?|weights?)|sheet|strips?|foil|putty|pellets?|balls?|beads?|sinkers?|granules?|ingots?|plates?|slugs?)`
	stock   = `(?:fib(?:re|er)s?|rods?|tub(?:es?|ing)|bars?|strips?|spars?|sheets?|plates?|wires?)`
)

// inEnglish are the words for each hazard.
var inEnglish = map[string]*regexp.Regexp{
	"magnets": regexp.MustCompile(`\bmagnet(?:s|ic|ised|ized)?\b|\bneodymium|\bnd-?fe-?b\b|\brare[ -]earth|\bsamarium`),
	"spray": regexp.MustCompile(`\b(?:over-?)?spray(?:s|ed|ing)?\b|\bspray-?(?:paint|can|gun)|\bair[ -]?brush|\baerosol|\brattle[ -]cans?\b|` +
		`\bmist[ -]coat`),
	"solvents": regexp.MustCompile(`\b(?:re|over)?paint(?:s|ed|ing)?\b|\bprim(?:e|ed|er|ers|ing)\b|\bvarnish|\blacquer|\benamels?\b|` +
		`\b(?:(?:clear|gloss|matt|matte|satin|base|final|first|second) ?|under|top)-?coats?\b|\boil (?:wash|paint)|` +
		`\b(?:plastic|liquid|polystyrene) cement\b|` + liquids),
	"resin-washing": regexp.MustCompile(`\bwash(?:ed|es|ing)?\b`),
	"lead": regexp.MustCompile(`\blead[ ,(-]*` + weights + `\b|\b` + weights + `[ ,(-]*(?:(?:made |cast )?(?:of|from|in) )?lead\b|\b(?:made |cast )?of lead\b|` +
		`\bleadshot\b|\b(?:tin[ -]|leaded |\b)lead(?:ed)? solder\b|\bleaded\b`),
	"resin":     regexp.MustCompile(`\bcur(?:e|ed|ing)\b|\bresin\b`),
	"superglue": regexp.MustCompile(`\bsuper[ -]?glue|\bcyano|\binstant[ -](?:glue|adhesive)`),
	"epoxy":     regexp.MustCompile(`\bepox|\b(?:two|2)[ -](?:part|component) (?:glue|adhesive)`),
	"soldering": regexp.MustCompile(`\b(?:de|un)?-?solder(?:s|ed|ing)?\b|\b(?:hot|soldering) iron\b|\bwith (?:an|the) iron\b|\btin(?:ned|ning)? the (?:ends?|wires?|leads?)\b`),
	"fibre": regexp.MustCompile(`\b(?:carbon|cf)[ -]?(?:(?:round|flat|square) )?` + stock + `|\b` + stock + `[ ,(-]*(?:(?:of|in) )?carbon\b|` +
		`\bglass[ -]?(?:fib(?:re|er)|cloth|mat\b|reinforced)|\bfib(?:re|er)[ -]?glass|\b[cg]frp\b|\bgrp (?:sheet|rod|tube|plate)|\bfr-?4\b|\baramid`),
	"dust": regexp.MustCompile(`\bsand(?:s|ed|ing)?\b|\bfill(?:s|ed|ing|er)?\b|\bput(?:ty|tied|tying)\b|\bdrill|\bfil(?:e|ed|ing)\b|\bscrap(?:e|ed|ing)\b|` +
		`\bsaw(?:s|ed|ing|n)?\b|\bgrind|\bream(?:s|ed|ing)?\b|\brub(?:bed|bing)? down\b`),
	"blades": regexp.MustCompile(`\bcut(?:s|ting)?\b|\btrim(?:s|med|ming)?\b|\bscrap(?:e|ed|ing)\b|\bsaw(?:s|ed|ing|n)?\b|\b(?:knife|knives|scalpels?)\b`),
}

// liquids are volatile and burn.
const liquids = `\bthinners?\b|\b(?:white|mineral) spirits?\b|\bturpentine|\bnaphtha|\bpetrol\b|\bacetone|\bmek\b|\bisoprop|\bipa\b|\balcohol\b|\bsolvents?\b`

// soundAlike are phrases with a word for a hazard that mean something else.
var soundAlike = regexp.MustCompile(`\bspray[ -](?:rails?|dams?|strips?|deflectors?|guards?|hoods?)\b|\bprimer pumps?\b|\b(?:fuel |oil )?filler (?:caps?|necks?)\b|` +
	`\bcarbon[ -](?:steel|zinc|black|copy|paper)(?: (?:rods?|wires?|strips?|sheets?))?|\b(?:lead|blei)[ -]?fre[ie]\w*|\bunleaded\b|` +
	`\b(?:wire|battery|snap|test|lamp|supply|power|plug|switch)[ -]leads?\b|\bmagnetic (?:compass|detector)\w*|` +
	`\bgun batter(?:y|ies)|\bbatter(?:y|ies) (?:deck|of guns)|\biron cross(?:es)?\b`)
