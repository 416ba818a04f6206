package search

// grouping is the moves of a plan by groups of posts, and turned round.
type grouping struct {
	plan    *plan
	groups  []group
	groupOf []int32 // by post
	// into lists, by kind and post, the edges that lead to the post.
	into [][][]intoMove
	// from lists, by kind and group, the edges that can be danced.
	from [][][]fromMove
	// joins holds what the joins to an edge cost from each post of a group; see
	// [intoMove].
	joins []int32
}

// group is a run of posts with one stance, from all of which the same edges can
// be danced.
type group struct{ first, count int32 }

// intoMove is an edge danced from any post of a group: from the i-th the join to
// it costs joins[i] of the table of joins.
type intoMove struct{ edge, group, joins int32 }

// fromMove is an edge that leads to a group, with what the joins to it cost, as in
// [intoMove], and the least of them.
type fromMove struct{ edge, group, joins, least int32 }

// tariff is what a relaxed problem counts.
type tariff struct {
	edges []int32 // by edge, hundredths of a bar
	joins int32   // how many times joins count
	lane  int32   // how many times the lane counts
}

// join is what a join costs that costs so much in the real problem.
func (t tariff) join(cost int32) int32 { return t.joins * cost }

// costs is the tariff of the search itself.
func (g *grouping) costs() tariff {
	t := tariff{joins: 1, lane: 1}
	for i := range g.plan.edges {
		t.edges = append(t.edges, g.plan.edges[i].cost)
	}
	return t
}

// barsAlone is a tariff that counts bars and nothing else.
func (g *grouping) barsAlone() tariff {
	var t tariff
	for i := range g.plan.edges {
		t.edges = append(t.edges, g.plan.edges[i].bars)
	}
	return t
}

func newGrouping(pl *plan) *grouping {
	g := &grouping{plan: pl}
	of := map[post]int32{}
	for i, p := range pl.posts {
		number, known := of[p.group()]
		if !known {
			number = int32(len(g.groups))
			of[p.group()] = number
			g.groups = append(g.groups, group{int32(i), 0})
		}
		g.groups[number].count++
		g.groupOf = append(g.groupOf, number)
	}
	g.into = make([][][]intoMove, len(pl.kinds))
	g.from = make([][][]fromMove, len(pl.kinds))
	for k := range pl.kinds {
		g.into[k] = make([][]intoMove, len(pl.posts))
		g.from[k] = make([][]fromMove, len(g.groups))
		for number := range g.groups {
			g.gather(k, int32(number))
		}
	}
	return g
}

// gather lists the edges that can be danced from a group.
func (g *grouping) gather(kind int, number int32) {
	pl, group := g.plan, g.groups[number]
	place := map[int32]int32{} // of an edge's joins
	for _, m := range pl.moves[kind][group.first] {
		place[m.edge] = int32(len(g.joins))
		g.into[kind][m.to] = append(g.into[kind][m.to], intoMove{m.edge, number, int32(len(g.joins))})
		g.joins = append(g.joins, make([]int32, group.count)...)
	}
	for i := range group.count {
		for _, m := range pl.moves[kind][group.first+i] {
			g.joins[place[m.edge]+i] = m.cost - pl.edges[m.edge].cost
		}
	}
	for _, m := range pl.moves[kind][group.first] {
		least := g.joins[place[m.edge]]
		for _, cost := range g.joins[place[m.edge]:][:group.count] {
			least = min(least, cost)
		}
		g.from[kind][number] = append(g.from[kind][number], fromMove{m.edge, g.groupOf[m.to], place[m.edge], least})
	}
}
