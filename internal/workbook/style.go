package workbook

import "strconv"

// mostStyles is far above the 65,490 that spreadsheet programs allow.
const mostStyles = 1 << 18

// longestFormat in bytes is far above the 255 characters that these allow.
const longestFormat = 1 << 13

// readLooks reads how cells are shown: one look for each number of a style.
func (p *pack) readLooks(part string) (looks []*pattern, err error) {
	x, err := p.scan(part)
	if err != nil {
		return nil, err
	}
	looks = []*pattern{}
	own := map[int]string{}
	var ids []int
	err = x.each(func(at []byte) error {
		switch string(at) {
		case "styleSheet/numFmts/numFmt":
			id, err := strconv.Atoi(string(x.attr("numFmtId")))
			if err != nil {
				return x.cut()
			}
			if len(x.attr("formatCode")) > longestFormat {
				return damaged("has a longer format of numbers than spreadsheet programs make in its part %s", part)
			}
			own[id], err = x.attrText("formatCode")
			return err
		case "styleSheet/cellXfs/xf":
			id, _ := strconv.Atoi(string(x.attr("numFmtId")))
			ids = append(ids, id)
		}
		if len(ids) > mostStyles || len(own) > mostStyles {
			return tooLarge("has more than %d ways to show a cell", mostStyles)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	known := map[int]*pattern{}
	for _, id := range ids {
		if known[id] == nil {
			code, ok := own[id]
			if !ok {
				code = builtin[id]
			}
			known[id] = patternOf(code)
		}
		looks = append(looks, known[id])
	}
	return looks, nil
}

// builtin are the formats that files name by number only (ECMA-376 Part 1, 18.8.30).
// 27 to 36 and 50 to 58 differ between languages of East Asia; here the date of each.
var builtin = map[int]string{
	9: "0%", 10: "0.00%",
	14: "mm-dd-yy", 15: "d-mmm-yy", 16: "d-mmm", 17: "mmm-yy",
	18: "h:mm AM/PM", 19: "h:mm:ss AM/PM", 20: "h:mm", 21: "h:mm:ss", 22: "m/d/yy h:mm",
	27: "yyyy/m", 28: "m/d", 29: "m/d", 30: "m-d-yy", 31: "yyyy/m/d", 32: "h:mm", 33: "h:mm:ss", 34: "yyyy/m", 35: "m/d", 36: "yyyy/m",
	45: "mm:ss", 46: "[h]:mm:ss", 47: "mmss.0",
	50: "yyyy/m", 51: "m/d", 52: "yyyy/m", 53: "m/d", 54: "m/d", 55: "yyyy/m", 56: "m/d", 57: "yyyy/m", 58: "m/d",
}
