package graph

import (
	"slices"

	"lapwright/figures"
)

// Follow reports whether next may be danced right after v along the same wall:
// some entry of next is a stance in which v can end, and v is not one that is
// danced at a corner only. Neither need be a figure of the graph. It goes by the
// stances; what the feet then refuse, [CannotJoin] tells.
func (g *Graph) Follow(v, next *figures.Variant) bool {
	return v != nil && !v.Corner && follows(v, next, 0)
}

// FollowAtCorner reports whether next may be danced right after v when a corner
// is taken between the two: some entry of next is a stance in which v can end,
// as it reads along the next wall. It is never so in a graph without corners.
func (g *Graph) FollowAtCorner(v, next *figures.Variant) bool {
	return slices.ContainsFunc(g.corners, func(n int) bool { return follows(v, next, n) })
}

func follows(v, next *figures.Variant, corner int) bool {
	begins := entries(next)
	return slices.ContainsFunc(entries(v), func(s figures.Stance) bool {
		return slices.Contains(begins, v.Exit(s).Turned(corner))
	})
}
