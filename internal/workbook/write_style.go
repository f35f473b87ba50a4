package workbook

import "github.com/xuri/excelize/v2"

// look is one way in which cells are formatted.
type look uint8

const (
	lookText look = iota
	lookNumber
	lookDay
	lookMoment
	lookSecond
	lookClock
	lookClockSecond
	lookTitle
	lookAbout
	lookWords // a line of a sheet without columns
	lookNote
	lookHeading
	lookRequired
)

// formats are the number formats of cells, by look.
var formats = map[look]string{
	lookText: "@", lookNumber: "General", lookDay: "yyyy-mm-dd", lookMoment: "yyyy-mm-dd hh:mm",
	lookSecond: "yyyy-mm-dd hh:mm:ss", lookClock: "hh:mm", lookClockSecond: "hh:mm:ss",
}

const (
	fontName = "Arial"
	fontSize = 10
	ink      = "222222"
	lines    = "8C8C8C"
	paper    = "EEF1F4" // behind headings: light, so that a black and white print stays readable
	dark     = "D5DCE3" // behind headings of columns that are needed
)

// style is the number of a look's style in the file, made when first asked for.
// Bare is without lines around the cell.
func (b *builder) style(l look, bare bool) (int, error) {
	key := styleKey{l, bare}
	if id, ok := b.styles[key]; ok {
		return id, nil
	}
	s := styleOf(l)
	if bare {
		s.Border = nil
	}
	id, err := b.file.NewStyle(s)
	if err != nil {
		return 0, err
	}
	if b.styles == nil {
		b.styles = map[styleKey]int{}
	}
	b.styles[key] = id
	return id, nil
}

type styleKey struct {
	look look
	bare bool
}

func styleOf(l look) *excelize.Style {
	s := &excelize.Style{Font: &excelize.Font{Family: fontName, Size: fontSize, Color: ink}, Alignment: &excelize.Alignment{Vertical: "center"}}
	switch l {
	case lookTitle:
		s.Font.Size, s.Font.Bold = 14, true
	case lookAbout:
		s.Font.Size = 9
	case lookWords:
		s.Alignment.WrapText = true
	case lookNote:
		s.Font.Size = noteSize
		s.Alignment = &excelize.Alignment{Vertical: "bottom", WrapText: true}
		s.Border = around()
	case lookHeading, lookRequired:
		s.Alignment.WrapText = true
		s.Border = around()
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{paper}}
		if l == lookRequired {
			s.Font.Bold = true
			s.Fill.Color = []string{dark}
		}
	default:
		s.Border = around()
		if f := formats[l]; f == "@" {
			s.NumFmt = 49
		} else if f != "General" {
			s.CustomNumFmt = &f
		}
	}
	return s
}

func around() (all []excelize.Border) {
	for _, side := range []string{"left", "right", "top", "bottom"} {
		all = append(all, excelize.Border{Type: side, Color: lines, Style: 1})
	}
	return all
}

// lookOf is how the cells of a column are formatted before anything is typed. A moment
// begins as a day: where only a day is typed, a format with the hour would say midnight.
func lookOf(k Kind) look {
	switch k {
	case Number:
		return lookNumber
	case Day, Moment:
		return lookDay
	case Clock:
		return lookClock
	}
	return lookText
}
