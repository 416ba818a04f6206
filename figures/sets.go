package figures

// Sets of figures that a teacher limits together.

// TurnsLeft reports whether the couple turns to the left in all, be it ever so
// little: what the trade calls a reverse turn, whatever the figure's family. What
// a dancer turns alone, under an arm, does not count. Common practice, no source.
func (v *Variant) TurnsLeft() bool { return v.Turn() > 0 }

// TurnsRight reports whether the couple turns to the right in all: what the trade
// calls a natural turn. Common practice, no source.
func (v *Variant) TurnsRight() bool { return v.Turn() < 0 }

// Above reports whether the figure stands in a style's syllabi above a level, and
// not at it or below in any of them; [AnyStyle] looks at the syllabi of all
// styles. Nothing is above gold, and nothing above social, which is no rung of
// the ladder. Common practice, no source.
func (f *Figure) Above(style Style, level Level) bool {
	return level != Social && f.At(style, Gold) && !f.At(style, level)
}
