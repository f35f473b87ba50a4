package workbook

import _ "github.com/xuri/excelize/v2" // until write.go uses it
