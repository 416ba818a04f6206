package figures

import ("testing";"fmt";"sort";"lapwright/figures/geometry";"os";"strings";"strconv")

func TestTune(t *testing.T) {
	// TUNE="variant|step|leader words/alt|follower words/alt"
	spec := os.Getenv("TUNE")
	if spec == "" { return }
	p := strings.Split(spec, "|")
	v, ok := BuiltIn().Variant(p[0]); if !ok { t.Fatal(p[0]) }
	i, _ := strconv.Atoi(p[1]); i--
	orig := v.Steps[i]
	in := func(w, set string) bool { if set=="" {return true}; for _, x := range strings.Split(set,"/") { if x==w {return true} }; return false }
	type cand struct{ cost float64; s string }
	var cs []cand
	fsh := []float64{0}
	if len(p) > 4 { fsh = []float64{0,-0.05,0.05,-0.1,0.1} }
	for _, fx := range fsh { for _, fy := range fsh {
	for st := 0.05; st < 1.12; st += 0.05 {
		for dir := geometry.Turn(0); dir < 16; dir++ {
			s := orig; s.Strides = st; s.Toward = dir
			s.Actions[Follower].Shift = geometry.Point{X:fx,Y:fy}
			v.Steps[i] = s
			d := v.Dance(v.Entries[0], DefaultCouple())
			if !in(d.Steps[i].Falls[0].Word, p[2]) || !in(d.Steps[i].Falls[1].Word, p[3]) { continue }
			bad := ""
			for _, str := range []float64{.35,.45,.65,.8,1} { if fs := v.Faults(DefaultCouple().WithStride(str)); len(fs)>0 { bad = fmt.Sprint(str, fs[0]); break } }
			dd := geometry.Unit(dir.Radians()).Scale(st).Sub(geometry.Unit(orig.Toward.Radians()).Scale(orig.Strides)).Len()
			c := dd + (abs(fx)+abs(fy))*3
			if bad != "" { c += 5 }
			cs = append(cs, cand{c, fmt.Sprintf("%.2f %s shift %.2f,%.2f cost %.2f len %.2f %.2f  %s / %s  disp %.2f,%.2f  %s", st, directionShort(dir), fx,fy, c, d.Steps[i].Falls[0].Length, d.Steps[i].Falls[1].Length, d.Steps[i].Falls[0].Word, d.Steps[i].Falls[1].Word, d.Displacement.X, d.Displacement.Y, bad)})
		}
	}}}
	v.Steps[i] = orig
	sort.Slice(cs, func(a,b int) bool { return cs[a].cost<cs[b].cost })
	for k, c := range cs { if k<8 { fmt.Println(c.s) } }
	fmt.Println("orig", orig.Strides, directionShort(orig.Toward))
}
func abs(x float64) float64 { if x<0 {return -x}; return x }
