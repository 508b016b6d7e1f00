package talk

import "mortarboard/planner"

// wordFile is the vocabulary that stands beside the planner's facts, in the files of
// planner/rules/words. What each key means is said in planner/FORMAT.md.
type wordFile struct {
	Facts      map[string]map[string][]string `yaml:"facts"`
	Weak       map[string]map[string][]string `yaml:"weak"`
	About      map[string][]string            `yaml:"about"`
	Measures   map[string][]string            `yaml:"measures"`
	Parameters map[string][]string            `yaml:"parameters"`
	Tasks      map[string][]string            `yaml:"tasks"`
	Settings   map[string]map[string]string   `yaml:"settings"`
	Usual      map[string]string              `yaml:"usual"`
	Measured   map[string]string              `yaml:"measured"`
	Dimensions map[string][]string            `yaml:"dimensions"`
	Cues       map[string][]string            `yaml:"cues"`
	Together   []together                     `yaml:"together"`
	Generic    map[string][]string            `yaml:"generic"`
	Ignore     []string                       `yaml:"ignore"`
	Elsewhere  []string                       `yaml:"elsewhere"`
	Kept       []string                       `yaml:"kept"`
	Aside      []string                       `yaml:"aside"`
	Troubles   []string                       `yaml:"troubles"`
	Benign     map[string][]string            `yaml:"benign"`
	Hedges     []string                       `yaml:"hedges"`
	Unsettled  []unsettled                    `yaml:"unsettled"`
	// Replies are what yes and no mean in answer to the question of a fact.
	Replies map[string]map[string][]string `yaml:"replies"`

	Topics map[string][]string `yaml:"topics"`
	// TopicsDenied are topics only beside a word that denies; Against take a benign value back.
	TopicsDenied map[string][]string `yaml:"topics-denied"`
	Against      map[string][]string `yaml:"against"`

	Acids      acidWords                      `yaml:"acids"`
	Kin        map[string][]string            `yaml:"kin"`  // family → its words, in the phrases of emergencies
	Calm       []string                       `yaml:"calm"` // phrases in which the words of an emergency mean none
	Emergency  []emergency                    `yaml:"emergencies"`
	Dangers    []danger                       `yaml:"dangers"`
	Falls      falls                          `yaml:"falls"`
	Judgements judgements                     `yaml:"judgements"`
	Joined     joined                         `yaml:"joined"`
	Turns      turns                          `yaml:"turns"`
	Inside     map[string][]string            `yaml:"inside"`
	SaysAlso   map[string]saysAlso            `yaml:"says-also"` // fact → what some words in its phrases say besides
	Measuring  measuring                      `yaml:"measuring"`
	Changing   []string                       `yaml:"changing"`
	Answers    [][]string                     `yaml:"answers"`
	Given      []string                       `yaml:"given"`
	Form       []string                       `yaml:"form"`
	Cut        []string                       `yaml:"cut"`
	Common     map[string][]string            `yaml:"common"`
	Degrees    []string                       `yaml:"degrees"`
	Deeds      map[string][]string            `yaml:"deeds"`
	Lasting    []string                       `yaml:"lasting"`
	Others     []string                       `yaml:"others"`
	Materials  []string                       `yaml:"materials"`
	Short      map[string]string              `yaml:"short"`
	ReadAs     map[string]string              `yaml:"read-as"`
	Numbers    map[string]float64             `yaml:"numbers"`
	Shares     map[string]float64             `yaml:"shares"`
	Alone      map[string]map[string][]string `yaml:"alone"`
	Spoiling   spoiling                       `yaml:"spoiling"`
	DoneToWork map[string][]string            `yaml:"done-to-work"`
	Grammar    map[string][]string            `yaml:"grammar"`
	Shelf      shelfWords                     `yaml:"shelf"`
}

// acidWords tell a question about acid on zirconia from one about the tooth.
type acidWords struct {
	Acid   []string `yaml:"acid"`   // acids and etching
	Inner  []string `yaml:"inner"`  // the inner surface
	Work   []string `yaml:"work"`   // the restoration
	Tooth  []string `yaml:"tooth"`  // the tooth
	Task   string   `yaml:"task"`   // whose settings are those for the tooth
	Inside string   `yaml:"inside"` // the setting that is meant in their place
	Strong string   `yaml:"strong"` // the one of them that is meant by itself
}

// spoiling says what makes a mishap of a surface that was already treated.
type spoiling struct {
	Fact  string              `yaml:"fact"`
	None  string              `yaml:"none"`  // the value without a mishap
	By    []string            `yaml:"by"`    // what gets onto the surface
	Onto  map[string][]string `yaml:"onto"`  // value → the surface, or its treatment
	Deeds map[string][]string `yaml:"deeds"` // value → words by which the treatment is told as done
}

// falls say how it is told that a restoration fell, and what is answered.
type falls struct {
	Say       string              `yaml:"say"`
	Basis     planner.Basis       `yaml:"basis"`      // one that needs no source
	Entry     string              `yaml:"entry"`      // the article that says more
	Told      []telling           `yaml:"told"`       // the ways in which it is told
	Never     []string            `yaml:"never"`      // phrases beside which none of them counts
	Tells     []string            `yaml:"tells"`      // the facts that such a message may tell besides
	TakesBack map[string][]string `yaml:"takes-back"` // fact → values that are so no longer
}

// A telling is one way to tell something, written like the lines of an emergency.
type telling struct {
	When   [][][]string `yaml:"when"`
	Unless []string     `yaml:"unless"`
}

// An emergency is what nobody should wait for a bot to answer.
type emergency struct {
	Say   string        `yaml:"say"`
	Basis planner.Basis `yaml:"basis"` // one that needs no source
	When  [][][]string  `yaml:"when"`  // any of these lines; of each of its groups one phrase
}

// together says what facts mean when they stand together.
type together struct {
	When map[string][]string `yaml:"when"`
	Then map[string][]string `yaml:"then"`
}

// unsettled says what facts that stand together leave in doubt.
type unsettled struct {
	When  map[string][]string `yaml:"when"`
	Doubt []string            `yaml:"doubt"`
}

// judgements say what praise or blame means for a fact.
type judgements struct {
	Grades []string                       `yaml:"grades"` // from best to worst, each with a cue grade-…
	Turned map[string]string              `yaml:"turned"` // grade → what a "not" makes of it
	Facts  map[string]map[string][]string `yaml:"facts"`  // fact → grade → values
	Work   []string                       `yaml:"work"`   // facts that a judgement of the work says nothing of
}

// joined says what two mentions of one fact make together.
type joined struct {
	Several  []string                       `yaml:"several"`  // facts of which a message may name more than one value
	Mixtures map[string]mixture             `yaml:"mixtures"` // fact → what two unlike values make
	Latest   map[string]string              `yaml:"latest"`   // fact whose later value counts → the value that has to be said to come later
	Passing  []string                       `yaml:"passing"`  // facts that change during one visit
	Worst    map[string]string              `yaml:"worst"`    // fact → the value that counts beside another bad one
	Layered  map[string]string              `yaml:"layered"`  // fact → the value that names others as its parts
	Least    []string                       `yaml:"least"`    // measured facts of which the least counts
	Cleared  map[string]string              `yaml:"cleared"`  // fact → the value that stands where it is only said what it is not
	Narrower map[string]map[string]string   `yaml:"narrower"` // fact → value → the wider one that it makes clear
	Counting map[string]counting            `yaml:"counting"` // fact → what has to be said for words that only count to state it
	Apart    []string                       `yaml:"apart"`    // facts of which two values mean two restorations
	Implied  map[string]map[string][]string `yaml:"implied"`  // measured fact → what it says where nothing else does
}

// counting says what words that only count, as "twice" does, hang on.
type counting struct {
	Words  []string            `yaml:"words"`  // the first words of phrases that only count
	Values map[string][]string `yaml:"values"` // any of these facts, so stated, is what is counted
}

// saysAlso is what words in the phrases of a fact say of another one.
type saysAlso struct {
	Words  []string            `yaml:"words"`
	Facts  map[string][]string `yaml:"facts"`
	Always bool                `yaml:"always"` // even where nothing else names the other fact
}

// A mixture is the value that two others make.
type mixture struct {
	Whole string   `yaml:"whole"`
	Of    []string `yaml:"of"`
}

// turns say what the words around a phrase make of its value: fact → value → value.
type turns struct {
	Softened   map[string]map[string]string `yaml:"softened"`
	OutOfReach map[string]map[string]string `yaml:"out-of-reach"`
	OneSide    map[string]oneSide           `yaml:"one-side"`
}

// oneSide is the value that becomes another one where it holds on one side only.
type oneSide struct {
	Gone   string `yaml:"gone"`   // what "except buccally" is an exception to
	Of     string `yaml:"of"`     // what may be so on one side only, if that is said at once
	Partly string `yaml:"partly"` // what is left then

	Bearing []string            `yaml:"bearing"` // the sides that bear what is held on one side only
	On      map[string][]string `yaml:"on"`      // what is held so: a wing on the palatal side
}

// measuring says how numbers are written down.
type measuring struct {
	Units         map[string]string `yaml:"units"` // of measures that are no facts
	Row           []string          `yaml:"row"`   // of three numbers with strokes between
	Pair          []string          `yaml:"pair"`  // of two lengths of a stump, the lesser one first
	UnitNeeded    []string          `yaml:"unit-needed"`
	InMicrometres []string          `yaml:"in-micrometres"`
	WallBeside    []string          `yaml:"wall-beside"`
	ConnectorSide []string          `yaml:"connector-side"`
	Stray         map[string]string `yaml:"stray"` // unit → the fact in doubt if a number measures nothing
}
