/* Faults of records: each is refused with a sentence, its line, and the mark under its place. */

#include "book.h"

#include <stdlib.h>
#include <string.h>

/* LINE and MARK: where the mark stands in "more.txt", and what stands under it. */
static const struct { const char *text; int line; const char *mark, *says;
} faults[] = {
    /* records and keys */
    {"\nrul x\n", 2, "x", "is no record of a handbook"},
    {"factor a : number = 1\n  hlep x\n", 2, "x", "\"hlep\" cannot stand under \"factor\""},
    {"factor a : number = 1\n  title x\n  title y\n", 3, "y", "\"title\" stands here twice"},
    {"factor a : number = 1\n  source boek, seen: x\n", 2, "boek", "neither a class of sources"},
    {"work miller\n  class book\n  title x\nfactor a : number = 1\n  source miler, memory\n", 5, "miler",
     "near it: miller"},
    {"factor a : number = 1\n  source standard, seen\n", 2, "standard, seen", "stands which one it is"},
    {"factor a : number = 1\n  source common practice, seen: x\n", 0, "", NULL},
    {"work miller\n  class book\n", 1, "miller", "A work has a title"},
    {"work miller\n  class common practice\n  title x\n", 1, "miller", "A work is of the class standard"},
    {"work a b\n  class book\n  title x\n", 1, "a b", "a name of one word"},
    {"work book\n  class book\n  title x\n", 1, "book", "that is a class of sources"},
    {"work m\n  class book\n  title x\nwork m\n  class book\n  title x\n", 4, "m",
     "There is a work \"m\" already"},
    {"work m\n  class book\n  titel x\n", 3, "x", "cannot stand under \"work\""},
    {"kind k\n  asked a : length\n    form x.y\n", 3, "x.y", "cannot stand under \"asked\""},
    {"kind k\n  words\n", 2, "", "The names of the lines stand behind \"words\"."},
    {"kind k\n  words by Says\n", 2, "Says", "names, parted by blanks"},
    {"kind k\n  words by says\n  asked a : length\n", 1, "k",
     "A kind of words has no properties and no holes"},
    {"kind k\n  words by says\n  lay\n", 1, "k", "and stands nowhere"},
    {"rule r\n  each plate\n  first\n  value thickness\n  fault unless at least 2 mm\n  says x\n", 1, "r",
     "is tried once and has a value"},
    {"rule r\n  once\n  first\n  fault unless yes\n  says x\n", 1, "r", "is tried once and has a value"},
    {"kind k\n  holes tap\n", 2, "tap", "\"holes\" cannot stand under \"kind\"; near it: hole"},
    {"kind k\n  asked a : length\n    when a + 3 kN > a\n", 3, "", ""},
    {"kind k\n  asked a : length\n    when a\n", 3, "", ""},
    {"kind k\n  lay\n  frame\n    x = 1 mm\n", 3, "", "A frame says where it lies"},
    {"kind k\n  frame\n    x = 1 mm\n    y = 0 mm\n", 1, "k", "Only a kind with a line \"lay\" has frames"},
    {"kind k\n  lay\n  frame\n    x = 1 kN\n    y = 0 mm\n", 4, "1 kN", "A length is wanted"},
    {"kind k\n  lay\n  frame\n    x = 1 mm\n    y = 0 mm\n    turn = 3\n", 6, "3", "An angle is wanted"},
    {"kind k\n  lay\n  frame\n    repeat 1 mm\n    x = 1 mm\n    y = 0 mm\n", 4, "1 mm", "number is wanted"},
    {"kind k\n  lay\n  frame\n    x = x\n    y = 0 mm\n", 4, "x", "There is no \"x\""},
    {"kind k\n  lay\n  frame\n    x = index * with_x\n    y = with_y\n", 0, "", NULL},
    {"kind k\n  lay\n  begins\n    lay one stack.top\n", 4, "one stack.top",
     "is written \"lay PATTERN on PLATE\""},
    {"kind k\n  lay\n  begins\n    lay nowhere on stack.top\n", 4, "", "no pattern \"nowhere\""},
    {"kind k\n  begins\n    wide = 3 mm\n", 3, "", "has no \"wide\""},
    {"kind k\n  asked wide : length\n  begins\n    wide = 3 kN\n", 4, "3 kN", ""},
    {"kind k\n  asked wide : length\n  begins\n    wide\n", 4, "wide", ""},
    {"kind k\n  asked a : length\n    help x\n      help y\n", 0, "", NULL},
    {"function f\n  takes a : length\n    hlep x\n  gives length = a\n", 3, "x",
     "cannot stand under \"takes\""},
    {"pattern p\n  takes a : length\n    choices 1 mm\n  point q\n    x = a\n    y = a\n", 3, "1 mm",
     "cannot stand under \"takes\""},
    {"pattern p\n  takes a : length\n    range 1 mm\n  point q\n    x = a\n    y = a\n", 3, "1 mm",
     "A range is written"},
    {"pattern p\n  takes a : length\n    range 1 mm .. 2 kN\n  point q\n    x = a\n    y = a\n", 3,
     "2 kN", "A length is wanted"},
    {"pattern p\n  takes a : length\n    start 1 mm\n  point q\n    x = a\n    y = a\n", 3, "1 mm",
     "\"start\" is written \"start = formula\""},
    {"pattern p\n  takes a : length\n    start = lenth\n  point q\n    x = a\n    y = a\n", 3, "lenth",
     "There is no \"lenth\""},
    {"pattern p\n  takes a : length\n    start = 3\n  point q\n    x = a\n    y = a\n", 3, "3",
     "A length is wanted"},
    {"kind k\n  hole tap\n    in stack.top\n    diameter = 1 mm\n    dept = 1 mm\n", 5, "= 1 mm",
     "cannot stand under \"hole\""},
    {"table t\n  file x.csv\n  column a : length from a_mm else 2\n", 3, "",
     "Only a text stands behind \"else\""},
    {"paper p\n  row x\n", 2, "", "A paper has columns"},
    {"paper p\n  column a\n    counted\n  row x\n", 4, "", "A paper has columns"},
    {"paper p\n  column a\n", 1, "", "A paper has rows"},
    {"paper p\n  column a\n  row x\n  column b\n", 4, "", "stand before its rows"},
    {"paper p\n  column a\n  row x\n    cell b y\n", 4, "b", "has no column \"b\""},
    {"paper p\n  column a\n  row x\n    cell a y\n", 4, "", "has something in \"a\" already"},
    {"paper p\n  column a\n    number\n  row 3 of\n", 4, "", "stands one number"},
    {"paper p\n  column a\n  each kk x\n", 3, "kk", "There is no kind \"kk\""},
    {"paper p\n  column a\n  row {b}\n", 3, "b", "There is no \"b\""},
    {"paper p\n  column a\n  row x\n    when 3\n", 4, "", "A yes or no is wanted"},
    {"paper p\n  column a\n  row x\npaper p\n  column a\n  row x\n", 4, "", "There is a paper \"p\" already"},
    {"kind k\npaper p\n  column a\n  row x\n  below_each kk {a}\n", 5, "kk", "There is no kind \"kk\""},
    {"kind k\n  asked a : length\npaper p\n  column a\n  row x\n  below_each k {b}\n", 6, "b",
     "There is no \"b\""},
    {"paper p\n  column a\n    noted\n  column b\n  row x\n    cell a x\n", 6, "a",
     "The paper has no column \"a\" that is filled in."},
    {"kind k\n  asked a : length\npaper p\n  column b\n  column n\n    noted\n  each k {a}\n"
     "  below_each k {a}\n  below x\n",
     0, "", NULL},
    {"paper p\n  column a\n  row x\nkind k\n  caution It cuts.\n    on p pp\n", 4, "",
     "A caution is told on \"pp\", and there is no such paper."},
    {"paper p\n  column a\n  row x\nkind k\n  caution It cuts.\n    on p\n", 0, "", NULL},
    {"kind k\n  stamp {lenght}\n", 2, "lenght", "There is no \"lenght\""},
    {"kind k\n  order x\n    piece 1\n", 3, "1", "cannot stand under \"order\""},
    {"kind k\n  event x\n    at 1 mm\n    on 1 mm\n", 4, "1 mm", "cannot stand under \"event\""},
    {"rule r\n  once\n  value 1\n  fault unless at least 2\n    say x\n  says y\n", 5, "x",
     "cannot stand under \"fault\""},
    {"example e\n  try 1\n    expected 1\n", 3, "1", "cannot stand under \"try\""},
    {"word w\n  says x\n", 2, "x", "cannot stand under \"word\""},
    {"differ w\n  says x\n", 2, "x", "cannot stand under \"differ\""},
    {"differ w\n  help x\n  source y\n", 1, "w", "Where sources differ, help says how"},
    {"differ w\n  help x\n  taken y\n  source z\n  choose screws.lenght\n", 1, "differ w",
     "chosen by \"screws.lenght\""},
    {"differ w\n  help x\n  taken y\n  source z\n  choose screws\n", 1, "differ w",
     "nothing that can be typed"},
    /* names */
    {"factor wanted : number = 1\n", 1, "wanted", "There is a factor \"wanted\" already"},
    {"function mass_of\n  gives number = 1\n", 1, "mass_of", "There is a function \"mass_of\" already"},
    {"kind plate\n", 1, "plate", "There is a kind \"plate\" already"},
    {"factor mm : number = 1\n", 1, "mm", "is a unit"},
    {"factor if : number = 1\n", 1, "if", "is a word of the language"},
    {"factor A : number = 1\n", 1, "A", "cannot be a name"},
    {"function in\n  gives number = 1\n", 1, "in", "is a unit"},
    {"function total\n  gives number = 1\n", 1, "total", "is a word of the language"},
    {"function f\n  takes deg : angle\n  gives angle = deg\n", 2, "deg", "is a unit"},
    {"function f\n  takes a : length\n  let pi = a\n  gives length = pi\n", 3, "pi",
     "is a word of the language"},
    {"function f\n  takes a : length\n  takes a : force\n  gives length = a\n", 3, "a",
     "There is a \"a\" already"},
    {"function f\n  takes a : length\n  let a = 2 * a\n  gives length = a\n", 3, "a",
     "There is a \"a\" already"},
    {"function f\n  takes wanted : length\n  gives length = wanted\n", 1, "function f",
     "The argument \"wanted\" is named like a factor"},
    {"function f\n  let play = 1\n  gives number = play\n", 1, "function f",
     "The part \"play\" is named like a factor"},
    {"pattern p\n  takes play : length\n  point q\n    x = left\n    y = front\n", 1, "pattern p",
     "The measure \"play\" is named like a factor"},
    {"pattern p\n  takes a : length\n  takes a : length\n  point q\n    x = a\n    y = a\n", 3, "a",
     "\"a\" already"},
    {"pattern p\n  point q\n    x = left\n    y = back\n  point q\n    x = left\n    y = back\n", 5, "q",
     "There is a point \"q\" already"},
    {"kind k\n  asked wanted : number\n", 2, "asked wanted",
     "The property \"wanted\" is named like a factor"},
    {"kind k\n  asked this : number\n", 2, "this", "is a word of the language"},
    {"kind k\n  asked order : number\n", 2, "asked order", "\"order\" means something else"},
    {"kind k\n  asked ground : number\n", 2, "asked ground", "\"ground\" means something else"},
    {"kind k\n  asked a : number\n  usual a : number = 1\n", 3, "a", "This kind has a \"a\" already"},
    {"kind play\n", 1, "kind play", "The kind \"play\" is named like a factor"},
    {"rule a b\n  once\n  note unless 1 = 1\n  says x\n", 1, "a b", "a name of one word"},
    {"rule r\n  once\n  note unless 1 = 1\n  says x\nrule r\n  once\n  note unless 1 = 1\n  says x\n", 5, "r",
     "There is a rule \"r\" already"},
    {"example e\n  try 1\n    expect 1\nexample e\n  try 1\n    expect 1\n", 4, "e",
     "There is an example \"e\" already"},
    /* declarations */
    {"factor a = 1\n", 1, "a = 1", "factor name : type"},
    {"factor a : number\n", 1, "a : number", "A factor has a value"},
    {"factor a : lenght = 1 mm\n", 1, "lenght", "\"lenght\" is no dimension"},
    {"factor a : length = 1 mm\n  range 1 mm, 2 mm\n", 2, "1 mm, 2 mm", "low .. high"},
    {"factor a : length = 1 mm +\n", 1, NULL, ""},
    {"factor a : length =\n", 1, "a : length =", "A formula is wanted here"},
    {"function f\n  takes a : length\n", 1, "f", "gives nothing"},
    {"function f\n  gives length\n", 2, "length", "gives type = formula"},
    {"function f\n  takes a : length\n  let a b = 1\n  gives length = a\n", 3, "a b = 1",
     "let name = formula"},
    {"function f\n  let b = 1 mm\n  takes a : length\n  gives length = a\n", 3, "a : length",
     "stands before what it works out"},
    {"pattern p\n  takes a : length\n", 1, "p", "A pattern has points"},
    {"pattern p\n  point q\n    x = left\n", 2, "q", "an x and a y"},
    {"pattern p\n  point q\n    x left\n    y = back\n", 3, "left", "\"x = formula\""},
    {"pattern p\n  point q\n    x = left\n    y = back\n  repeat 2\n    x = left\n    y = back\n", 1, "p",
     "points, or one \"repeat\""},
    {"word w\n", 1, "w", "needs its help"},
    /* kinds */
    {"kind k\n  usual a : length\n", 2, "a : length", "\"usual\" has a formula"},
    {"kind k\n  follows a : length\n", 2, "a : length", "\"follows\" has a formula"},
    {"kind k\n  measure a : length = 1 mm\n", 2, "a : length", "has no formula"},
    {"kind k\n  asked a : choice = \"x\"\n", 2, "a : choice", "needs its line of choices"},
    {"kind k\n  asked a : text = \"x\"\n    choices \"x\", \"y\"\n", 2, "a : text", "its type is choice"},
    {"kind k\n  asked a : choice = \"z\"\n    choices \"x\", \"y\"\n", 2, "z",
     "\"z\" is not among the choices"},
    {"kind k\n  asked a : choice\n    choices \"x\", y\n", 3, "y", "texts in double quotes"},
    {"kind k\n  asked a : choice = \"y\"\n    choices x, y\n", 3, "x", "texts in double quotes"},
    {"kind k\n  asked a : choice\n    choices \"x\", \"y\", \"x\"\n", 3, "\"x\"", "stands here twice"},
    {"kind k\n  asked a : length\n    decimals 9\n", 3, "9", "from 0 to 6"},
    {"kind k\n  asked a : length\n    from x\n", 3, "x", "from table.column"},
    {"kind k\n  letter ab\n", 2, "ab", "One letter"},
    {"kind k\n  hole tap\n    diameter = 1 mm\n", 2, "tap", "which plate it is in"},
    {"kind k\n  hole tap\n    in stack.top\n", 2, "tap", "a diameter, or a length and a width"},
    {"kind k\n  hole tap\n    in stack.top\n    length = 2 mm\n", 2, "tap",
     "a diameter, or a length and a width"},
    {"kind k\n  hole tap\n    in stack.top\n    diameter = 1 mm\n    length = 2 mm\n    width = 2 mm\n", 2,
     "tap", "a diameter, or"},
    {"kind k\n  hole tap\n    in stack.top\n    diameter = 1 mm\n    corner = 1 mm\n", 2, "tap",
     "has corners"},
    {"kind k\n  hole tap\n    in stack.top\n    diameter 1 mm\n", 4, "1 mm", "\"diameter = formula\""},
    {"kind k\n  hole tap\n    in each plat, order > 1\n    diameter = 1 mm\n", 3, "plat",
     "Holes go into plates"},
    {"kind k\n  hole tap\n    in each plate, order\n    diameter = 1 mm\n", 3, "order", "is no match"},
    {"kind k\n  event x\n", 2, "x", "has a ram height"},
    {"kind k\n  order x\n    table screws\n", 0, "", NULL},
    /* texts with braces */
    {"kind k\n  asked a : length\n  order x {a as mm\n", 3, "{a as mm", "is not closed"},
    {"kind k\n  asked a : length\n  order x {a} y}\n", 3, "}", "closes nothing"},
    {"kind k\n  asked a : length\n  order x{when known(a)} {a}\n", 3, "{when", "has no {end}"},
    {"kind k\n  asked a : length\n  order x{end} {a}\n", 3, "end", "is ended by {end}"},
    {"kind k\n  asked a : length\n  order x{when a}, {a}{end}\n", 3, "a", "yes or no"},
    {"kind k\n  asked a : length\n  order x {a {a}\n", 3, "{a {a}", "is not closed"},
    {"kind k\n  asked a : length\n  order x {}\n", 3, "x {}", "A formula is wanted here"},
    {"kind k\n  asked a : length\n  order x {a as furlong}\n", 3, NULL, ""},
    /* rules */
    {"rule r\n  value 1\n  fault unless at least 2\n  says x\n", 1, "r", "what it is tried on"},
    {"rule r\n  once\n  each plate\n  value 1\n  fault unless at least 2\n  says x\n", 3, "plate",
     "said twice"},
    {"rule r\n  each plat\n  value 1\n  fault unless at least 2\n  says x\n", 2, "plat",
     "There is no kind \"plat\""},
    {"rule r\n  once\n  value 1\n  says x\n", 1, "r", "at least one rung"},
    {"rule r\n  once\n  value 1\n  fault unless at least 2\n", 1, "r", "says nothing"},
    {"rule r\n  once\n  value 1\n  fault if at least 2\n  says x\n", 4, "if at least 2",
     "fault unless at least FORMULA"},
    {"kind jack\n  caution\n", 2, "caution", "needs its words"},
    {"caution Hot.\n  help So.\n", 2, "So.", "cannot stand under"},
    {"rule r\n  once\n  value 1\n  note unless at least 2\n  caution unless at least 1\n  says x\n", 5,
     "unless", "gravest first"},
    {"rule r\n  once\n  value 1\n  caution unless at least 2\n  fault unless at least 1\n  says x\n", 5,
     "unless", "gravest first"},
    {"rule r\n  once\n  fault unless at least 2\n  says x\n", 1, "rule r", "has no line \"value\""},
    {"rule r\n  once\n  state old\n  value 1\n  fault unless at least 2\n  says x\n", 3, "old",
     "\"new\" or \"ground\""},
    {"rule r\n  each two holes\n  value wall\n  fault unless more than 0 mm\n  says x\n", 1, "r",
     "says \"within\""},
    {"kind k\n  hole tap\n    in stack.top\n    diameter = 1 mm\n    turn = 1 deg\n", 2, "tap",
     "is not turned"},
    {"rule r\n  each two bodies\n  value wall\n  fault unless more than 0 mm\n  says x\n", 1, "r",
     "says \"within\""},
    {"kind k\n  body\n    on k\n    diameter = 1 mm\n    from = 0 mm\n    to = 1 mm\n", 2, "",
     "name of the body"},
    {"kind k\n  body flange\n    diameter = 1 mm\n    from = 0 mm\n    to = 1 mm\n", 2, "flange",
     "which plate it stands on"},
    {"kind k\n  body flange\n    on k\n    diameter = 1 mm\n    from = 0 mm\n", 2, "flange",
     "\"from\" and \"to\""},
    {"kind k\n  body flange\n    on k\n    from = 0 mm\n    to = 1 mm\n", 2, "flange", "has a diameter"},
    {"kind k\n  body flange\n    on k\n    depth = 1 mm\n", 4, "= 1 mm", "\"depth\""},
    {"rule r\n  once\n  within 1 mm\n  value 1\n  fault unless at least 2\n  says x\n", 1, "r",
     "says \"within\""},
    {"rule r\n  each plate\n  value thickness\n  fault unless at least 2 mm\n  says x\n  mend thicknes\n", 1,
     "rule r", "\"thicknes\", which is no quantity"},
    {"rule r\n  once\n  value 1\n  fault unless at least 2\n  says x\n  mend stack.high\n", 1, "rule r",
     "cannot be typed"},
    {"rule r\n  once\n  value 1\n  fault unless at least 2\n  says x\n  mend stack\n", 1, "rule r",
     "is no quantity"},
    /* examples */
    {"example e\n  source x\n", 1, "e", "tries something"},
    {"example e\n  try 1\n", 2, "1", "what is expected"},
    {"example e\n  with a = 1\n  try 1\n    expect 1\n", 1, "e", "need a whole set"},
    {"example e\n  try stack.high in ground\n    expect 1 mm\n", 1, "e", "need a whole set"},
    {"example e\n  like x\n  with a 1\n  try 1\n    expect 1\n", 3, "a 1", "with path = formula"},
    /* lets of a kind */
    {"kind k\n  let b = 2 * a\n  asked a : length\n  let c = b > 1 mm\n  follows d : length = if(c, b, a)\n",
     0, "", NULL},
    {"kind k\n  let b = a + 1 mm\n  asked a : length\n  follows d : force = b\n", 4, "b",
     "A force is wanted"},
    {"kind k\n  let b = 2 * c\n  let c = 1 mm\n", 2, "c", "c stands further down"},
    {"kind k\n  let b = 2 * b\n", 2, "b", "b stands further down"},
    {"kind k\n  let b\n", 2, "b", "\"let name = formula\""},
    {"kind k\n  let b : length = 1 mm\n", 2, "b : length", "\"let name = formula\""},
    {"kind k\n  let b = 1 mm\n    help x\n", 3, "x", "cannot stand under \"let\"; there may stand: nothing"},
    {"kind k\n  let b = 1 mm\n  asked b : length\n", 3, "b : length", "has a \"b\" already"},
    {"kind k\n  let wanted = 1 mm\n", 2, "", "named like a factor"},
    {"kind k\n  let x = plate\n", 2, "plate", ""},
    {"kind k\n  asked on : plate\n  let b = on\n", 3, "on", "a number, a text, or yes or no"},
    {"kind k\n  let b = 1 mm\n  asked a : length\nkind l\n  asked of : k\n  follows c : length = of.b\n", 6,
     "of.b", "a let of the kind k"},
    {"kind k\n  let b = 1 mm\nkind l\n  follows c : length = total(k.b)\n", 4, "k.b", "\"b\""},
    {"kind k\n  let b = 1 mm\nrule r\n  each k\n  value 1 mm\n  fault unless at least b\n  says x\n  mend "
     "b\n",
     3, "rule r", "cannot be typed"},
    /* what goes on in deeper lines is marked in the line in which it stands */
    {"factor a : length =\n    1 mm\n    + 2 kN\n", 2, "1 mm", "added"},
    {"factor a : length = 1 mm\n    + lenth\n  title x\n", 2, "lenth", "There is no \"lenth\""},
    {"factor a : length =\n\n    # a comment\n    1 mm *\n\n    * 2\n", 6, "* 2", ""},
    {"factor a : length = 1 mm\n    + wnted * 1 mm\n  source\n      common practice\n", 2, "wnted", "wanted"},
    {"factor a : length = 1 mm\n  source\n      boek, seen: x\n", 3, "boek", "neither a class of sources"},
    {"rule r\n  once\n  value 1\n  fault unless at least 2\n  says {value}\n      of {vlue}\n", 6, "vlue",
     "value"},
    {"kind k\n  asked a : choice\n    choices \"x\",\n        \"y\",\n        z\n", 5, "z",
     "texts in double quotes"},
    {"kind k\n        single\n", 0, "", NULL},
    /* record text itself */
    {"kind k\n   asked a : length\n", 2, "asked", "odd number of blanks"},
    /* tables */
    {"table t\n  column a : text\n", 2, "a : text", "column name : type from"},
    {"table t\n  column a : plate from b\n", 2, "a : plate", "texts or numbers"},
};

/* Rows without a sentence are sound: they show that their neighbours fall for the fault alone. */
START_TEST(a_faulty_record_is_refused_at_its_place)
{
    struct base_diag why;
    if (!faults[_i].says) {
        handbook_free(read_more(faults[_i].text));
        return;
    }
    read_refused(faults[_i].text, &why);
    ck_assert_msg(strstr(why.message, faults[_i].says), "%s\n-> %s", faults[_i].text, why.message);
    ck_assert_str_eq(why.file, "more.txt");
    ck_assert_msg(why.line == faults[_i].line, "%s\n-> line %d: %s", faults[_i].text, why.line, why.message);
    ck_assert_int_ge(why.start, 0);
    ck_assert_int_le(why.start, (int)strlen(why.source));
    ck_assert_int_gt(why.length, 0);
    const char *mark = faults[_i].mark;
    ck_assert_msg(!mark || strncmp(why.source + why.start, mark, strlen(mark)) == 0,
                  "%s\n-> \"%s\" at %d: %s", faults[_i].text, why.source, why.start, why.message);
    ck_assert_int_eq(why.message[strlen(why.message) - 1], '.');
}
END_TEST

START_TEST(more_lines_than_there_is_room_for_are_refused)
{
    static const struct { const char *head, *line, *tail; int most; } rows[] = {
        {"function f\n", "  takes a%d : length\n", "  gives length = a0\n", 24},
        {"function f\n", "  let a%d = 1 mm\n", "  gives length = a0\n", 24},
        {"pattern p\n", "  point a%d\n    x = left\n    y = back\n", "", 64},
        {"rule r\n  once\n  value 1\n", "  fault unless at least %d\n", "  says x\n", 8},
        {"example e\n", "  try %d\n    expect 1\n", "", 40},
    };
    for (size_t i = 0; i < COUNT_OF(rows); i++)
        for (int more = 0; more < 2; more++) {
            struct base_text t = {0};
            base_text_add(&t, rows[i].head);
            for (int n = 0; n < rows[i].most + more; n++)
                base_text_addf(&t, rows[i].line, n);
            base_text_add(&t, rows[i].tail);
            struct base_diag why;
            if (more) {
                read_refused(base_text_get(&t), &why);
                ck_assert_msg(strstr(why.message, "More than"), "%s", why.message);
            } else
                handbook_free(read_more(base_text_get(&t)));
            base_text_done(&t);
        }
}
END_TEST

START_TEST(a_folder_without_a_handbook_is_unreadable)
{
    struct handbook *h;
    struct base_diag why = {0};
    ck_assert_int_eq(handbook_load(fresh_folder(), &h, &why), BASE_UNREADABLE);
    ck_assert_ptr_null(h);
    ck_assert_ptr_nonnull(strstr(why.message, "no handbook"));
    ck_assert_int_eq(handbook_load("data/no-such-folder", &h, NULL), BASE_UNREADABLE);
}
END_TEST

START_TEST(files_of_parts_come_from_their_folder_only)
{
    static const struct { const char *file, *says;
    } rows[] = {
        {"../handbook/10-words.txt", "without a folder"},
        {"/etc/passwd", "without a folder"},
        {".hidden", "without a folder"},
        {"no-such-file.csv", "cannot be read"},
    };
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        char *text = base_format("table t\n  file %s\n  column a : text from b\n", rows[i].file);
        const char *texts[] = {text}, *names[] = {"t.txt"};
        struct handbook *h;
        struct base_diag why = {0};
        ck_assert_int_ne(handbook_read(texts, names, 1, "data", &h, &why), BASE_OK);
        ck_assert_msg(strstr(why.message, rows[i].says), "%s", why.message);
        ck_assert_int_eq(why.line, 2);
        free(text);
    }
}
END_TEST

TCase *refusals_case(void)
{
    TCase *t = tcase_create("refusals");
    tcase_add_loop_test(t, a_faulty_record_is_refused_at_its_place, 0, COUNT_OF(faults));
    tcase_add_test(t, more_lines_than_there_is_room_for_are_refused);
    tcase_add_test(t, a_folder_without_a_handbook_is_unreadable);
    tcase_add_test(t, files_of_parts_come_from_their_folder_only);
    return t;
}
