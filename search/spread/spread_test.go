package spread

import (
	"context"
	"errors"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"lapwright/search/network"

	"pgregory.net/rapid"
)

// every lists the laps of a problem in the plainest way, one of each dance.
func every(p *Problem) (dances [][]Danced) {
	var walk func(path Path, node, cost int32)
	walk = func(path Path, node, cost int32) {
		if cost > p.Most {
			return
		}
		if node == p.Network.End {
			d := p.dance(path)
			if !slices.ContainsFunc(dances, func(o []Danced) bool { return slices.Equal(o, d) }) && (p.Keeps == nil || p.Keeps(path)) {
				dances = append(dances, d)
			}
			return
		}
		for i, a := range p.Network.Arcs(node) {
			on := Path{path.Source, append(slices.Clone(path.Arcs), int32(p.Network.ArcNumber(node)+i))}
			walk(on, a.To, cost+a.Cost)
		}
	}
	for _, s := range p.Network.Sources {
		walk(Path{Source: s}, s, 0)
	}
	return dances
}

// legal holds a set to what must be true of any: laps of the network that cost no more
// than they may, keep to the limits and differ, with the distances that are given.
func legal(t interface {
	Helper()
	Fatalf(string, ...any)
}, p *Problem, set *Set) {
	t.Helper()
	if len(set.Laps) > p.Count {
		t.Fatalf("%d laps, and %d are asked for", len(set.Laps), p.Count)
	}
	for i, lap := range set.Laps {
		if err := p.follows(lap); err != nil {
			t.Fatalf("lap %d: %v", i, err)
		}
		if p.Keeps != nil && !p.Keeps(lap) {
			t.Fatalf("lap %d does not keep to the limits", i)
		}
		for j, other := range set.Laps[:i] {
			d := Distance(p.dance(lap), p.dance(other))
			if d == 0 || d != set.Distances[i][j] || d != set.Distances[j][i] {
				t.Fatalf("laps %d and %d are %g apart; the set says %g and %g", i, j, d, set.Distances[i][j], set.Distances[j][i])
			}
		}
	}
	if p.First == nil && len(set.Laps) > 0 && p.Keeps == nil && set.Laps[0].Cost(p.Network) != p.Network.Best() {
		t.Fatalf("the first lap costs %d, the best %d", set.Laps[0].Cost(p.Network), p.Network.Best())
	}
}

// farApart is the greatest least distance of any so many of some dances.
func farApart(dances [][]Danced, count int) float64 {
	best := 0.0
	var choose func(from int, chosen []int, least float64)
	choose = func(from int, chosen []int, least float64) {
		if len(chosen) == count {
			best = max(best, least)
			return
		}
		for i := from; i < len(dances); i++ {
			with := least
			for _, c := range chosen {
				with = min(with, Distance(dances[i], dances[c]))
			}
			if with > best {
				choose(i+1, append(slices.Clone(chosen), i), with)
			}
		}
	}
	choose(0, nil, 1e9)
	return best
}

// TestSmall: on small networks the set has as many laps as were asked for or as there
// are, and its least distance is at least half of the best that can be had.
func TestSmall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small(t)
		if rapid.Bool().Draw(t, "limits") {
			never := int32(rapid.IntRange(0, 2).Draw(t, "never"))
			p.Keeps = func(path Path) bool {
				return !slices.ContainsFunc(p.dance(path), func(d Danced) bool { return d.Figure == never })
			}
		}
		set, err := Find(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		legal(t, p, set)
		all := every(p)
		if want := min(p.Count, len(all)); len(set.Laps) != want || !set.Whole || set.Candidates != len(all) {
			t.Fatalf("%d laps of %d candidates, whole: %v; there are %d", len(set.Laps), set.Candidates, set.Whole, len(all))
		}
		if len(set.Laps) < 2 || len(all) > 14 {
			return
		}
		if best := farApart(all, len(set.Laps)); set.Least() < best/2-1e-9 || set.Least() > best+1e-9 {
			t.Fatalf("the least distance is %g; %g can be had", set.Least(), best)
		}
	})
}

// TestMore: when more laps are asked for than there are, all are given.
func TestMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small(t)
		p.Count = 5000
		set, err := Find(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		legal(t, p, set)
		if all := every(p); len(set.Laps) != len(all) {
			t.Fatalf("%d laps; there are %d", len(set.Laps), len(all))
		}
	})
}

// TestLarge: in a network of more laps than can be listed there are as many as are asked
// for, the same on any number of cores, and farther apart than the cheapest ones.
func TestLarge(t *testing.T) {
	p := layered(t, 16, 40, 6)
	p.Count = 20
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for seed := range uint64(3) {
		p.Seed = seed
		var first *Set
		for _, cores := range []int{1, 2, 8} {
			runtime.GOMAXPROCS(cores)
			set, err := Find(context.Background(), p)
			if err != nil {
				t.Fatal(err)
			}
			legal(t, p, set)
			if len(set.Laps) != p.Count || set.Whole {
				t.Fatalf("%d laps, whole: %v", len(set.Laps), set.Whole)
			}
			if first == nil {
				first = set
			} else if !reflect.DeepEqual(first, set) {
				t.Fatalf("on %d cores the set is another", cores)
			}
		}
		pool := newPool(p)
		if err := pool.addThrough(context.Background()); err != nil {
			t.Fatal(err)
		}
		slices.SortFunc(pool.laps, func(a, b candidate) int { return int(a.cost - b.cost) })
		twins := 1e9
		for i := range p.Count {
			for j := range i {
				twins = min(twins, Distance(pool.laps[i].dance, pool.laps[j].dance))
			}
		}
		if first.Least() < 2*twins {
			t.Errorf("the least distance is %g, of the cheapest laps through single places %g", first.Least(), twins)
		}
		through, err := pool.choose(context.Background(), false)
		if err != nil {
			t.Fatal(err)
		}
		if first.Least() < through.Least() {
			t.Errorf("with dearer figures the least distance is %g, without %g", first.Least(), through.Least())
		}
	}
}

// TestLimited: limits that the network does not know are kept in a large network, too,
// and a solver that knows them is asked and believed only as far as it is right.
func TestLimited(t *testing.T) {
	p := layered(t, 12, 30, 6)
	p.Count = 10
	p.Keeps = func(path Path) bool {
		return !slices.ContainsFunc(p.dance(path), func(d Danced) bool { return d.Figure < 12 })
	}
	set, err := Find(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	legal(t, p, set)
	without := len(set.Laps)

	// The same network with the arcs of those figures so dear that they are avoided.
	p.Solve = func(_ context.Context, extra []int32) (Path, bool, error) {
		own := newWalker(p, &tariff{keys: make([]int32, p.Network.Size())})
		own.times = 1
		for i, e := range extra {
			own.tariff.keys[i] = int32(i)
			if way := p.Network.Arc(i).Way; way != network.Closing && p.Network.Ways[way].Figure < 12 {
				e += 10_000
			}
			own.extra = append(own.extra, e)
		}
		path, ok := own.walk()
		return path, ok && p.Keeps(path), nil
	}
	set, err = Find(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	legal(t, p, set)
	if len(set.Laps) < without || len(set.Laps) < 2 {
		t.Errorf("%d laps with a solver, %d without", len(set.Laps), without)
	}

	wrong := errors.New("no more")
	p.Solve = func(context.Context, []int32) (Path, bool, error) { return Path{}, false, wrong }
	if _, err := Find(context.Background(), p); !errors.Is(err, wrong) {
		t.Errorf("a solver that fails: %v", err)
	}
	p.Solve = func(context.Context, []int32) (Path, bool, error) { return Path{Source: -1}, true, nil }
	if _, err := Find(context.Background(), p); err == nil {
		t.Error("a path that is none is taken for a lap")
	}

	p.Solve, p.Keeps = nil, func(Path) bool { return false }
	if set, err = Find(context.Background(), p); err != nil || len(set.Laps) != 0 {
		t.Errorf("laps that no limit allows: %v, %v", set, err)
	}
}

// TestWalker: every lap that is found may be chosen, and where nothing is dearer it is
// the cheapest.
func TestWalker(t *testing.T) {
	p := layered(t, 16, 40, 6)
	tariff := newTariff(p)
	w := newWalker(p, tariff)
	var found trial
	w.solve(context.Background(), 0, &found)
	if !found.found || found.path.Cost(p.Network) != p.Network.Best() {
		t.Fatalf("it finds a lap that costs %d; the best costs %d", found.path.Cost(p.Network), p.Network.Best())
	}
	other := 0
	for i := range uint64(40) {
		tariff.count(p.dance(found.path))
		w.solve(context.Background(), i, &found)
		if !found.found || found.err != nil {
			t.Fatal(found.err)
		}
		if err := p.follows(found.path); err != nil {
			t.Fatal(err)
		}
		if found.path.Cost(p.Network) > p.Network.Best() {
			other++
		}
	}
	if other < 30 {
		t.Errorf("only %d of 40 laps are others than the cheapest", other)
	}
}

// TestFirst: the set begins with the lap that it is told to begin with.
func TestFirst(t *testing.T) {
	p := layered(t, 12, 30, 6)
	p.Count = 5
	set, err := Find(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	p.First = &set.Laps[3]
	again, err := Find(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	legal(t, p, again)
	if !reflect.DeepEqual(again.Laps[0], *p.First) {
		t.Errorf("it begins with %v", again.Laps[0])
	}
	for name, wrong := range map[string]Path{
		"no source":  {Source: p.Network.End},
		"no end":     {Source: p.First.Source, Arcs: p.First.Arcs[:3]},
		"no such":    {Source: p.First.Source, Arcs: []int32{-1}},
		"not its":    {Source: p.First.Source, Arcs: p.First.Arcs[1:]},
		"nothing":    {Source: p.First.Source},
		"far beyond": {Source: p.First.Source, Arcs: []int32{1 << 30}},
	} {
		p.First = &wrong
		if _, err := Find(context.Background(), p); err == nil {
			t.Errorf("%s: %v is taken for a lap", name, wrong)
		}
	}
	p.First, p.Most = &set.Laps[3], p.Network.Best()-1
	if _, err := Find(context.Background(), p); err == nil {
		t.Error("a lap that costs too much is taken")
	}
}

func TestBad(t *testing.T) {
	p := layered(t, 4, 3, 2)
	if _, err := Find(context.Background(), p); err == nil {
		t.Error("no laps are asked for, and that is no error")
	}
	p.Count = 2
	p.Places = p.Places[1:]
	if _, err := Find(context.Background(), p); err == nil {
		t.Error("a node has no place, and that is no error")
	}
	p = layered(t, 12, 30, 6)
	p.Count = 2
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Find(ctx, p); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled, it says %v", err)
	}
}
