package figures

import "testing"

func TestBuiltInLibraryLoads(t *testing.T) {
	l, err := Load("waltz.yaml", waltzFile, DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range l.Variants() {
		t.Log(v.Name(), len(v.Dance(v.Entries[0], DefaultCouple()).Sweep()))
	}
}
