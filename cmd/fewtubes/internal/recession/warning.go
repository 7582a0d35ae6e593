package recession

// Rule is one thing the air does.
type Rule string

const (
	ChromaFalls      Rule = "chroma falls with distance"
	DarksLighten     Rule = "darks lighten with distance"
	HuesCool         Rule = "hues cool with distance"
	GroundStaysLight Rule = "the ground stays among the lighter values"
	DarkestInFront   Rule = "the strongest dark stands in the foreground"
	ContrastInFront  Rule = "the widest contrast stands in the foreground"
)

// Warning is a rule that a scene breaks.
type Warning struct {
	Rule  Rule
	Plane string // that does not step back
	Words string // one sentence with the figures
}
