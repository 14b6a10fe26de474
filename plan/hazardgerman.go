package plan

import (
	"regexp"
	"strings"
)

// plain writes umlauts, in either form of Unicode, and the sharp s as two letters, and all
// hyphens and dashes as the plain hyphen.
var plain = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "a\u0308", "ae", "o\u0308", "oe", "u\u0308", "ue",
	"\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-")

// plainLetters is a text in lower case, with letters and hyphens as in ids.
func plainLetters(text string) string { return plain.Replace(strings.ToLower(text)) }

// inGerman are the stems of words for each hazard: they are compounded and inflected.
var inGerman = map[string]*regexp.Regexp{
	"magnets": regexp.MustCompile(`\w*magnet(?:e|en|s|scheiben?|staeb\w*|kugeln?)?\b|neodym|selten-?erd`),
	"spray":   regexp.MustCompile(`sprueh|airbrush|spraydose|spraylack|\b(?:be|auf|an)?sprayen\b|spritzpistole|spritzlack|\b(?:auf|ein|ge)?spritz(?:en|t)\b`),
	"solvents": regexp.MustCompile(`lackier|\black(?:e|en|farbe|schicht|stift)?\b|(?:klar|matt|glanz|schutz|deck|kunstharz|nitro)lack|` +
		`farbe\b|farbauftrag|\b(?:be|an|aus|ueber)?malen\b|\bbemalt|\b(?:an|be|ein|ueber)?streichen\b|anstrich|grundier|` +
		`verduenn|loesemittel|loesungsmittel|aceton\b|terpentin|waschbenzin|\bspiritus|kunststoffkleber|plastikkleber`),
	"resin-washing": regexp.MustCompile(`\b(?:ab|aus)?(?:wasch|gewaschen)`),
	"lead":          regexp.MustCompile(`\bblei(?:schrot|kugeln?|gewichte?n?|ballast|platten?|band|blech|streifen|kloetz\w*|klotz|folie|perlen?|draht|lot)?\b`),
	"resin":         regexp.MustCompile(`\b(?:aus|nach)(?:zu)?(?:ge)?haert|\b(?:uv-?)?harz`),
	"superglue":     regexp.MustCompile(`sekunden-?kleber|[cz]yan(?:o)?acrylat`),
	"epoxy":         regexp.MustCompile(`\bepoxi|epoxid|epoxyd|zweikomponenten|\b2-?k-?(?:kleber|harz)`),
	"soldering":     regexp.MustCompile(`\b(?:an|auf|ab|ein|ver|zusammen)?(?:zu|ge)?loet`),
	"fibre":         regexp.MustCompile(`(?:kohle|kohlenstoff|glas|[ck]arbon|aramid)-?faser|glasmatte|\b[cg]fk\b|(?:kohle|[ck]arbon)-?(?:rohr|stab|platte|profil|holm)`),
	"dust": regexp.MustCompile(`schleif(?:en|t|st|papier|staub)|geschliffen|schmirgel|spachtel|gebohrt|bohr(?:en|t|ung|loecher)|` +
		`\b(?:ab|be|nach|zu)?(?:zu|ge)?feil|saeg|fraes`),
	"blades": regexp.MustCompile(`schneid|geschnitten|zuschnitt|abknips|abgeknips|kuerzen|gekuerzt|abtrenn|entgrat|saeg|saeuber|\bmesser|skalpell`),
}
