package threemf_test

// Reasons for which a package is judged otherwise here than by the consortium's library,
// version 1.8.1. The sections are those of the core specification 1.4.
const (
	support    = "objects of type support are left out here: they are no piece of the model"
	strict     = "the library warns, or says nothing: section 2.3.2 wants XML that is valid by the schema"
	wellFormed = "the library reads on in XML that is not well-formed (XML 1.0, section 2.1)"
	outside    = "section 2.1.1: documents do not refer to what is outside the package; the library does not look"
	included   = "section 2.1.1: a print ticket that is named is in the package; the library does not look"
	oneOfAType = "section 2.1.1: one relationship of a type from part to part; the library does not look"
	named      = "section 3.4.1: metadata has a name, and one name once; the library does not look"
	required   = "section 3.4: a required extension that is not supported is refused; the library supports beams"
	numbers    = "the library reads what it can of a number and takes the rest for nothing"
	noSolid    = "there is nothing that can be printed; the library leaves that to its user"
	noOther    = "section 3.4.3.1: items do not reference objects of type other, not even indirectly"
	types      = "Open Packaging Conventions: the type of an ending is stated once"
	sameByXML  = "the library refuses what XML or the packaging conventions write in two ways"
)

// differences are the packages that are judged otherwise here, and why.
var differences = map[string]string{
	"assembly": support,

	"fault: a drive":            outside,
	"fault: out of the package": outside,

	"fault: a ticket that is not there": included,
	"fault: one type twice":             oneOfAType,
	"fault: type twice":                 types,

	"fault: attribute twice": wellFormed,
	"fault: cut off":         wellFormed,
	"fault: entity":          wellFormed,
	"fault: index twice":     wellFormed,
	"fault: not UTF-8":       wellFormed,
	"fault: tags crossed":    wellFormed,

	"fault: id of an extension twice":         strict,
	"fault: object type":                      strict,
	"fault: stray text":                       strict,
	"fault: text in a vertex":                 strict,
	"fault: triangles first":                  strict,
	"fault: unknown attribute":                strict,
	"fault: unknown attribute of a component": strict,
	"fault: unknown attribute of a vertex":    strict,
	"fault: unknown attribute of an object":   strict,
	"fault: unknown attribute of metadata":    strict,
	"fault: unknown element":                  strict,
	"fault: unknown unit":                     strict,
	"fault: xsi":                              strict,

	"fault: metadata of an object twice":        named,
	"fault: metadata of an object without name": named,
	"fault: metadata twice":                     named,
	"fault: metadata without name":              named,

	"fault: comma":             numbers,
	"fault: word for a number": numbers,

	"fault: extension not read":   required,
	"fault: item of type other":   noOther,
	"fault: other inside":         noOther,
	"fault: flat":                 noSolid,
	"fault: huge":                 noSolid,
	"fault: no triangles":         noSolid,
	"fault: no triangles element": noSolid,
	"fault: nothing built":        noSolid,
	"fault: nothing but beams":    noSolid,

	"form: CDATA metadata": sameByXML,
	"form: capitals":       sameByXML,
	"form: escaped name":   sameByXML,
	"form: escapes":        sameByXML,
}
