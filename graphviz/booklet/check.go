package booklet

import "dryfit/graphviz/document"

// Level says how much a rule matters.
type Level string

// The levels of rules.
const (
	Error       Level = "error"
	Warning     Level = "warning"
	Information Level = "information"
)

// Result says how a booklet stands up to a rule.
type Result string

// The results.
const (
	Holds Result = "holds"
	Fails Result = "fails"
	Judge Result = "judge" // a person must look
)

// Verdict is a rule and how the booklet stands up to it.
type Verdict struct {
	Rule   string   `json:"rule"`   // in words
	Level  Level    `json:"level"`  // error, warning or information
	Result Result   `json:"result"` // holds, fails or judge
	Found  []string `json:"found"`  // what was found, or what to look at
}

// rule is one rule of good instructions. look returns what breaks it, and what a
// person may want to know of it in any case.
type rule struct {
	text  string
	level Level
	look  func(c *checker) (broken, known []string)
	judge bool // a program cannot tell
}

// checker has the finished booklet, and what it was made from.
type checker struct {
	*maker
	made  *Made
	steps []document.Step
	tasks map[int]int // step number -> index in the constraints
}

// Check holds the booklet against the rules of good instructions, in the sequence of
// the list. Grounds: M. Agrawala and others, "Designing effective step-by-step
// assembly instructions", ACM Transactions on Graphics 22(3), 2003, for most of those
// on pictures; ANSI Z535.6-2011 and IEC/IEEE 82079-1:2019 in general (from memory) for
// messages and what is stated; else common practice.
func (b *Made) Check() []Verdict {
	c := &checker{maker: b.m, made: b, tasks: map[int]int{}}
	for v := range b.m.rules.Steps {
		c.tasks[b.m.q.Place[v]] = v
	}
	for _, ch := range b.Book.Chapters {
		for _, block := range ch.Blocks {
			if s, ok := block.(document.Step); ok {
				c.steps = append(c.steps, s)
			}
		}
	}
	list := make([]Verdict, 0, len(rules))
	for _, r := range rules {
		v := Verdict{Rule: r.text, Level: r.level, Result: Holds, Found: []string{}}
		var broken, known []string
		if r.look != nil {
			broken, known = r.look(c)
		}
		switch {
		case len(broken) > 0:
			v.Result = Fails
		case r.judge:
			v.Result = Judge
		}
		v.Found = append(append(v.Found, broken...), known...)
		list = append(list, v)
	}
	return list
}

// rules are all of them, by the subject.
var rules = []rule{
	// the sequence
	{"Each step adds a part or does one named operation", Error, (*checker).eachStepDoes, false},
	{"Each piece comes in exactly one step, and the counts add up to the parts list", Error, (*checker).piecesAddUp, false},
	{"Steps are numbered without a gap", Error, (*checker).numbersRun, false},
	{"A step has one main part", Warning, (*checker).oneMainPart, false},
	{"A step is one operation", Warning, (*checker).oneOperation, false},
	{"A screw, pin or magnet goes in right after what it holds, a magnet once the soldering is done", Warning, (*checker).fastenersFollow, false},
	{"A sub-build has a sequence of its own, and is not left before it is finished", Warning, (*checker).buildsWhole, false},
	{"Mirrored pieces of one build are done next to each other, and said to be mirrored", Warning, (*checker).pairsTogether, false},
	{"Handed pairs carry port or starboard, left or right, in their numbers", Error, (*checker).pairsMarked, false},
	// the pictures
	{"What is new, and the place it goes to, can be seen", Error, (*checker).seatsSeen, false},
	{"The way in is shown by an arrow along a proven direction", Error, (*checker).arrows, false},
	{"What is new is set apart by its outline, not by colour alone", Warning, (*checker).newStandsOut, false},
	{"The view is kept from step to step; a change is said", Error, (*checker).viewKept, false},
	{"How often the model is turned over", Information, (*checker).turnedOver, false},
	{"Small work on a large body is enlarged, with a locator", Warning, (*checker).smallEnlarged, false},
	{"Pieces drawn apart lie on their way, in its direction", Error, (*checker).onTheirWay, false},
	{"What a step takes has number, name, quantity and picture, at one scale", Warning, (*checker).itemsComplete, false},
	{"A picture starts from where the one before ended", Warning, nil, true},
	{"A right and a wrong picture where a wrong way fits", Warning, (*checker).couldBeSwapped, true},
	{"Look-alike parts show the telling difference", Warning, (*checker).lookAlikesTold, true},
	// the lists
	{"Hardware has kind, size, quantity and picture", Error, (*checker).hardwareNamed, false},
	{"Small hardware is drawn in full size, or the scale is said", Warning, (*checker).hardwareFullSize, false},
	{"It states scale and revision", Error, (*checker).identified, false},
	{"It states who it is for, a contact, a licence and tools", Warning, (*checker).stated, false},
	{"Each page has its number of all pages, and the revision", Information, (*checker).footerSays, false},
	// the words
	{"Each join names its fixing, and how long it takes to hold", Warning, (*checker).fixingsNamed, false},
	{"It says what is painted before a step, and which faces stay bare", Warning, (*checker).paintSaid, false},
	{"Each closing has its last call", Error, (*checker).lastCalls, false},
	{"What opens or moves has the sign not to glue it", Error, (*checker).doNotGlue, false},
	{"Safety messages stand at the front and again before the action", Error, (*checker).messagesBefore, false},
	{"Signal words are used by their meaning", Error, (*checker).signalsMeant, false},
	{"Each jig is named by a step that it is for", Warning, (*checker).jigsUsed, false},
	{"A part has its number wherever a step names it", Warning, (*checker).numbersNamed, false},
	{"The hardest steps", Information, (*checker).hardest, false},
	{"Short imperative sentences, one action each, the same word for the same thing", Warning, nil, true},
	{"References are near, and none leads back to a warning", Warning, nil, true},
	{"One or two steps on a page", Information, nil, true},
	{"The information is complete, no more than needed, correct, consistent and understandable for those it is for", Information, nil, true},
}
