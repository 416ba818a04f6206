package figures

// eachHold calls visit with one entry of the variant for each hold in which it
// can begin: from other alignments it is the same, but turned.
func eachHold(v *Variant, visit func(Stance)) {
	seen := map[Hold]bool{}
	for _, e := range v.Entries {
		if !seen[e.Hold] {
			seen[e.Hold] = true
			visit(e)
		}
	}
}

// strides are those for which the whole library is measured.
var strides = []float64{CrowdedStride, SocialStride, UsualStride, 0.75}
