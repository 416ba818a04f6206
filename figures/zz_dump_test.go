package figures

import ("testing";"fmt")

func TestDump(t *testing.T) {
	l := BuiltIn()
	for _, v := range l.Variants() {
		d := v.Dance(v.Entries[0], DefaultCouple())
		fmt.Printf("\n== %s  %v -> %v  disp %.2f,%.2f gap %.3f stretch %.2f turn %v\n", v.Name(), d.Entry.Short(), d.Exit.Short(), d.Displacement.X, d.Displacement.Y, d.Measures().SoleGap, d.Measures().Stretch, v.Turn())
		for i, s := range d.Steps {
			for who := Leader; who <= Follower; who++ {
				f := s.Falls[who]
				m := &d.Start
				if i > 0 { m = &d.Steps[i-1].After }
				tr := s.Placed.Bodies[who].At.Sub(m.Bodies[who].At)
				mean := (m.Bodies[who].Front.Radians()*2 + (s.Placed.Bodies[who].Front-m.Bodies[who].Front).Within().Radians())/2
				r := tr.Rotate(-mean)
				fmt.Printf("  %d %-8s %s %-28s %-16s %-12s len %.2f travel %.2f (%.2f ahead %.2f left)\n", i+1, who, f.Foot.Short(), f.Word, f.Alignment.Short(), f.Turn, f.Length, f.Travel, r.X, r.Y)
			}
		}
	}
	for _, st := range []float64{0.35,0.45,0.55,0.8,1.0} {
		for _, v := range l.Variants() {
			for _, f := range v.Faults(DefaultCouple().WithStride(st)) { fmt.Println("FAULT", st, v.Name(), f) }
		}
	}
}
