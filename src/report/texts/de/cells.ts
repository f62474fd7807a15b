/** Why a cell is no number: sentences of their own, and phrases in others; the most special first. */
export const deCells = {
  "the cell is empty": "die Zelle ist leer",
  "{text} stands for a missing value": "{text} steht für einen fehlenden Wert",
  "{text} is the filler some controls print for no value":
    "{text} ist der Füllwert mancher Steuerungen für keinen Wert",
  "{text} is too large for a number": "{text} ist zu groß für eine Zahl",
  "{text} has the letter O where a zero may be meant":
    "{text} hat den Buchstaben O, wo eine Null gemeint sein kann",
  "{text} has a letter where a one may be meant":
    "{text} hat einen Buchstaben, wo eine Eins gemeint sein kann",
  "{text} is a fraction or a date": "{text} ist ein Bruch oder ein Datum",
  "{text} has a comma although the decimal mark is the point":
    "{text} hat ein Komma, obwohl das Dezimalzeichen der Punkt ist",
  "{text} has a point although the decimal mark is the comma":
    "{text} hat einen Punkt, obwohl das Dezimalzeichen das Komma ist",
  "{text} is not a number": "{text} ist keine Zahl",
} as const;
