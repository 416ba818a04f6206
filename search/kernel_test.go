package search

import (
	"context"
	"testing"

	"lapwright/figures"
)

// TestKernelAllocatesNothing: a search that has run once allocates nothing when
// it runs again.
func TestKernelAllocatesNothing(t *testing.T) {
	s, err := prepare(context.Background(), problem(named(t, "village hall"), atLevel(figures.Bronze)), nil)
	if err != nil {
		t.Fatal(err)
	}
	const limit = 4500
	if err := s.look(context.Background(), s.starts, limit); err != nil {
		t.Fatal(err)
	}
	before := 0
	run := func() {
		before = s.kernel.expanded
		s.kernel.begin(s.near, s.starts[:1], s.starts[:1], limit)
		if _, _, ok, err := s.kernel.run(context.Background(), nil); !ok || err != nil {
			t.Fatal("there is no lap", err)
		}
	}
	run()
	if allocated := testing.AllocsPerRun(3, run); allocated != 0 {
		t.Errorf("%g allocations in %d expansions", allocated, s.kernel.expanded-before)
	}
	if s.kernel.expanded-before < 1000 {
		t.Errorf("only %d expansions; that shows little", s.kernel.expanded-before)
	}
}

// TestKernelForgets: what a kernel did before does not change what it does.
func TestKernelForgets(t *testing.T) {
	p := problem(rooms(t)[1], atLevel(figures.Bronze))
	s, err := prepare(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	s.starts = s.starts[:max(3, len(s.starts)/slower)]
	const limit = unreachable
	if err := s.look(context.Background(), s.starts, limit); err != nil {
		t.Fatal(err)
	}
	costs := func(k *kernel) (all []int32) {
		for _, start := range s.starts {
			k.begin(s.near, []target{start}, []target{start}, limit)
			_, cost, ok, err := k.run(context.Background(), nil)
			if err != nil {
				t.Fatal(err)
			}
			if !ok {
				cost = -1
			}
			all = append(all, cost)
		}
		return all
	}
	once := costs(s.kernel)
	for i, start := range s.starts {
		fresh := newKernel(s.grouping)
		fresh.begin(s.near, []target{start}, []target{start}, limit)
		_, cost, ok, _ := fresh.run(context.Background(), nil)
		if ok != (once[i] >= 0) || ok && cost != once[i] {
			t.Errorf("start %d: a fresh kernel finds %d, a used one %d", i, cost, once[i])
		}
	}
}
