package plan

import (
	"regexp"
	"strings"
)

// A kit does not say what language it is in, so its texts are searched for the German
// words as well; they are compounded and inflected, so stems stand for them.

// umlauts writes umlauts, in either form of Unicode, and the sharp s as two letters.
var umlauts = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "a\u0308", "ae", "o\u0308", "oe", "u\u0308", "ue")

// plainLetters is a text in lower case, with German letters as in ids.
func plainLetters(text string) string { return umlauts.Replace(strings.ToLower(text)) }

// german are the stems of words for each hazard.
var german = map[string]*regexp.Regexp{
	"magnets": regexp.MustCompile(`\w*magnet(?:e|en|s|scheiben?|staeb\w*|kugeln?)?\b|neodym`),
	"spray":   regexp.MustCompile(`sprueh|airbrush|spritzpistole|spritzlack|\b(?:auf|ein|ge)?spritz(?:en|t)\b`),
	"solvents": regexp.MustCompile(`lackier|\black(?:e|en|farbe|schicht|stift)?\b|(?:klar|matt|glanz|schutz|deck|kunstharz|nitro)lack|` +
		`farbe\b|farbauftrag|\b(?:be|an|aus|ueber)?malen\b|\bbemalt|\b(?:an|be|ein|ueber)?streichen\b|anstrich|grundier|` +
		`verduenn|loesemittel|loesungsmittel|aceton\b|terpentin|kunststoffkleber|plastikkleber`),
	"resin-washing": regexp.MustCompile(`\b(?:ab|aus)?(?:wasch|gewaschen)`),
	"lead":          regexp.MustCompile(`\bblei(?:schrot|kugeln?|gewichte?n?|ballast|platten?|band|blech)?\b`),
	"resin":         regexp.MustCompile(`\b(?:aus|nach)(?:zu)?(?:ge)?haert|\b(?:uv-?)?harz`),
	"superglue":     regexp.MustCompile(`sekundenkleber|cyanacrylat|cyanoacrylat`),
	"epoxy":         regexp.MustCompile(`epoxid|epoxyd|zweikomponenten`),
	"soldering":     regexp.MustCompile(`\b(?:an|auf|ab|ein|ver|zusammen)?(?:zu|ge)?loet`),
	"fibre":         regexp.MustCompile(`kohlefaser|kohlenstofffaser|glasfaser|glasmatte|\b[cg]fk\b|carbon(?:rohr|stab|faser|platte)`),
	"dust": regexp.MustCompile(`schleif(?:en|t|st|papier|staub)|geschliffen|schmirgel|spachtel|gebohrt|bohr(?:en|t|ung|loecher)|` +
		`\b(?:ab|be|nach|zu)?(?:zu|ge)?feil|saeg|fraes`),
	"blades": regexp.MustCompile(`schneid|geschnitten|zuschnitt|abknips|abgeknips|kuerzen|gekuerzt|abtrenn|entgrat|saeg|saeuber|\bmesser|skalpell`),
}

// inGerman are those of some hazards that a text names in German.
func inGerman(text string, ids ...string) hazards {
	h := hazards{}
	text = plainLetters(text)
	for _, id := range ids {
		h.add(german[id].MatchString(text), id)
	}
	return h
}
