package main

import (
	"io"
	"slices"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// column is the head of a table's column; a right one holds numbers.
type column struct {
	head  string
	right bool
}

// table prints a table: plain letters, two spaces between columns, a line under
// the heads. A cell may have several lines. A column without a word in it is left
// out.
func table(w io.Writer, columns []column, rows [][]string) error {
	columns, rows = filled(columns, rows)
	heads := make([]any, len(columns))
	aligns := make([]tw.Align, len(columns))
	for i, c := range columns {
		heads[i], aligns[i] = c.head, tw.AlignLeft
		if c.right {
			aligns[i] = tw.AlignRight
		}
	}
	var b strings.Builder
	cell := tw.CellConfig{
		Formatting: tw.CellFormatting{AutoWrap: tw.WrapNone, AutoFormat: tw.Off},
		Alignment:  tw.CellAlignment{PerColumn: aligns},
		Padding:    tw.CellPadding{Global: tw.Padding{Left: tw.Empty, Right: "  ", Overwrite: true}},
	}
	t := tablewriter.NewTable(&b,
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{
			Borders: tw.BorderNone,
			Symbols: tw.NewSymbolCustom("plain").WithRow("-").WithColumn("").WithCenter("-").WithMidLeft("-").WithMidRight("-"),
			Settings: tw.Settings{
				Lines:      tw.Lines{ShowTop: tw.Off, ShowBottom: tw.Off, ShowHeaderLine: tw.On, ShowFooterLine: tw.Off},
				Separators: tw.Separators{BetweenRows: tw.Off, BetweenColumns: tw.Off, ShowHeader: tw.On},
			},
		})),
		tablewriter.WithConfig(tablewriter.Config{Header: cell, Row: cell, Behavior: tw.Behavior{TrimSpace: tw.Off}}))
	t.Header(heads...)
	for _, r := range rows {
		if err := t.Append(r); err != nil {
			return err
		}
	}
	if err := t.Render(); err != nil {
		return err
	}
	for _, line := range strings.Split(strings.TrimRight(b.String(), "\n"), "\n") {
		if _, err := io.WriteString(w, strings.TrimRight(line, " ")+"\n"); err != nil {
			return err
		}
	}
	return nil
}

// filled leaves out columns in which every cell is empty.
func filled(columns []column, rows [][]string) ([]column, [][]string) {
	var heads []column
	cells := make([][]string, len(rows))
	for i, c := range columns {
		if len(rows) > 0 && !slices.ContainsFunc(rows, func(r []string) bool { return strings.TrimSpace(r[i]) != "" }) {
			continue
		}
		heads = append(heads, c)
		for k, r := range rows {
			cells[k] = append(cells[k], r[i])
		}
	}
	return heads, cells
}
