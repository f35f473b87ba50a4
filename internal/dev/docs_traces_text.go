package dev

const tracesIntroduction = `# traces

A data logger writes what the sensors of a sterilizer showed, reading by reading. Copy its files into the folder ` + "`traces/`" + ` as they are, in folders below it as you like. The program reads every one of them once, from end to end, and changes none.

Every file below ` + "`traces/`" + ` is taken for one, but for ` + "`layout.yaml`" + ` and for names that begin with a dot or an underline. A file may be of any length. What is no text (a picture, a PDF, a spreadsheet) is told as such: export it as CSV.

## What is read

| part | how it may be written |
|---|---|
| text | UTF-8, UTF-16 or Windows-1252; lines may end in any way |
| columns | apart by comma, semicolon, tab or bar, with or without quotation marks |
| decimals | a point or a comma |
| headings | by their English words, with a number or a unit behind them or without: time, clock, elapsed, seconds, minutes; date, day; temperature, temp, T1, sensor, chamber, drain, load; pressure, P; phase, step, stage. By a unit alone too: ` + "`Kammer [°C]`, `Druck (bar gauge)`" + `; then a column of clock times is known by what stands in it. All else needs ` + "`layout.yaml`" + ` |
| lines above the table | any; of them are used: sterilizer (autoclave, machine, device), counter (cycle no, load number, batch no, run no), program (cycle type, cycle name), date (start date, day), start (start time, begin), temperature unit and pressure unit, each as ` + "`name: value`, `name = value`" + ` or in two columns. Of other languages none is read; then the load is found by the file's name, or a number in it |
| time | the time of day (` + "`14:05:07`, `2:05 pm`" + `); day and time in one column, or a date in its own; or the time since the start: seconds, minutes or hours as numbers, ` + "`mm:ss`, `hh:mm:ss`" + `. Numbers without a unit are seconds. A day and time with its offset (` + "`2026-03-02T12:05:07Z`" + `) is brought to the practice's time zone, where ` + "`practice`" + ` names one |
| date | year first always; day or month first where ` + "`practice.dates` or `date_order`" + ` says which |
| temperature | one column or several, in °C, °F or K. Columns of the jacket, the steam generator, the room or the set point are named in the report and not judged |
| pressure | in kPa, MPa, hPa, Pa, mbar, bar, psi or atm, gauge or absolute |
| phase | a column with the names of the phases, if there is one |
| reading | a plain number. Anything else (a blank, ` + "`nan`, `---`, `1e3`" + `) is no reading; it is counted, and the rest of its line is used |

The unit stands in the heading (` + "`Temp 1 [°C]`, `pressure (kPa abs)`" + `), in a line above the table, in ` + "`layout.yaml`" + `, or once for the practice in ` + "`practice.units`" + `. None is ever guessed: without one, what would need it is not judged, and the report says which is missing.

Gauge pressure is nought at the open door. To turn it into absolute pressure the program needs the altitude of the site or of the practice.

Midnight in the middle of a cycle and a change of the clock by an hour are followed. Gaps, times that stand still or go back, blank readings, a file that breaks off and a logger's clock that was never set are each told once, with the first line and how often; what can be used of the file still is.

`

// exampleTrace is a file as a logger might write it; a test reads it.
const exampleTrace = `Sterilizer;S1
Cycle no;398
Date;16/03/2026
Time;Temp 1 [°C];Temp 2 [°C];Pressure [kPa abs];Phase
14:05:00;23,4;23,6;101,2;heating
14:05:10;31,0;30,2;101,4;heating
14:05:20;38,7;37,9;101,3;heating
14:05:30;44,9;44,1;64,0;vacuum
14:05:40;43,2;42,8;31,5;vacuum
`

const tracesPairing = `## How a file finds its load

1. By name: the load's ` + "`trace`" + ` names the file, with or without its folder and ending.
2. Else by counter: a load of the same sterilizer has the cycle number that stands in the lines above the table, and began within a day of the first reading; or a number that stands in the file's name, and began within three hours of it. Where the file has no date, nearness is not asked.
3. Else by its start: one load of that sterilizer began within ten minutes of the first reading, the nearest. A load that names another file, or has no hour, is not asked. A file that has the counter of a leak test or an air-removal test in ` + "`tests`" + `, or began nearer to one, is taken for that test's, and finds no load.

The sterilizer is the one that the lines above the table or the file's path name; where the records have only one, that one. Where several could be meant and a load of each is as near, none is taken. A short hold in a file that was found by its start alone is told as an observation, and not judged, where anything in the records points to another cycle.

The report prints what each file was paired with, and how, or why with none; of very many it prints twenty, and audit.json has all. A file without a load is judged all the same, as far as it can be.

`

const tracesLayout = `Many files need none of this: their headings say enough. Where they do not, say once what a maker's columns are, in ` + "`traces/layout.yaml`" + `: a list of entries, of which the first that fits a file is used for it. Which files an entry is for is said by ` + "`files`, by `sterilizer`" + `, or by both; capital and small letters are the same. An entry with ` + "`sterilizer`" + ` is only for files that a load of that sterilizer names in its ` + "`trace`" + `, whose path names it, or that name it in a line above their table, and for all files where there is only one sterilizer: what the columns are must be known before a counter or a start can be looked for. All else may be left out, and what is left out is read from the file. An entry with a mistake is not used, and the report says which line it is.

`

const columnForms = `
A column is written as its heading, as its number counted from 1, or with more about it:

| name | what it is |
|---|---|
| ` + "`column`" + ` | its heading as written in the file (without the unit will do), or its number. A number in quotation marks is a heading |
| ` + "`unit`" + ` | temperature: °C, °F or K; pressure: kPa, MPa, hPa, Pa, mbar, bar, psi or atm; time: s, min or h |
| ` + "`from`" + ` | pressure only: gauge or absolute |

`

// exampleLayout has an entry with every name; a test reads it, and the file below by it.
const exampleLayout = `- files: "S2-*.txt"
  sterilizer: S2
  time: {column: t, unit: s}
  date: Tag
  temperature:
    - {column: T1, unit: °C}
    - {column: T2, unit: °C}
  pressure: {column: P, unit: bar, from: gauge}
  phase: Schritt
  skip: 2
  delimiter: semicolon
  decimal: comma
  date_order: dmy
  note: From the handbook of the logger, p. 31.
- files: "old/*.csv"
  time: 1
  temperature: [2, 3]
  pressure: {column: 4, unit: psi, from: gauge}
`

const exampleMapped = `Protokoll 77
Ofen 2
Tag;t;Schritt;T1;T2;P
16/03/2026;0;A;23,4;23,6;0,00
16/03/2026;10;A;31,0;30,2;0,00
16/03/2026;20;B;38,7;37,9;-0,37
`

const tracesCaution = `What a logger shows is what its sensors felt where they sit, no more: it does not overrule a spore test or an indicator, and it releases nothing. The sterilizer's instructions, your regulator and whoever services it come first.
`
