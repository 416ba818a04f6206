package figures
import ("testing";"fmt";"os";"lapwright/figures/geometry";"strings")
func TestTele(t *testing.T) {
	if os.Getenv("TELE")=="" {return}
	v, _ := BuiltIn().Variant("Open Telemark")
	o := append([]Step(nil), v.Steps...)
	for _, alt := range []struct{t2,p2l,p2f,t3,c3,p3 geometry.Turn}{{4,0,2,6,2,2},{6,-2,0,4,2,2},{6,-2,0,4,2,4},{6,-2,0,6,0,0},{4,0,2,4,4,4},{6,-2,0,2,4,4}} {
		for _, dir2 := range []geometry.Turn{15,0,1,2} { for _, st2 := range []float64{0.0,0.15,.3} {
		for st := 0.3; st<1.05; st+=.05 { for dir := geometry.Turn(0); dir<16; dir++ {
			copy(v.Steps,o)
			v.Steps[1].Turn=alt.t2; v.Steps[1].Actions[0].Points=alt.p2l; v.Steps[1].Actions[1].Points=alt.p2f
			v.Steps[1].Toward=dir2; v.Steps[1].Strides=st2
			v.Steps[2].Turn=alt.t3; v.Steps[2].Completes=alt.c3; v.Steps[2].Actions[0].Points=alt.p3
			v.Steps[2].Strides=st; v.Steps[2].Toward=dir
			d := v.Dance(v.Entries[0], DefaultCouple())
			w0,w1 := d.Steps[2].Falls[0].Word, d.Steps[2].Falls[1].Word
			if !strings.HasPrefix(w0,"side") || !strings.Contains(w1,"forward") || !strings.HasPrefix(d.Steps[1].Falls[0].Word,"side") {continue}
			if len(v.Faults(DefaultCouple()))>0 {continue}
			fmt.Println(alt, dir2, st2, fmt.Sprintf("%.2f",st), directionShort(dir), w0,"/",w1, d.Steps[1].Falls[0].Word, d.Steps[2].Falls[0].Length, d.Steps[2].Falls[1].Length, d.Displacement)
		}}}}
	}
	copy(v.Steps,o)
}
