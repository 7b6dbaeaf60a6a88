-- Ampacity under IEC 60364: PVC 70 degree C, by installation method and number of loaded conductors.
-- 30 degree C air; method D: 20 degree C ground.
CREATE TABLE ref_ampacity_iec(
  size       TEXT NOT NULL,                                   -- as in ref_conductor
  metal      TEXT NOT NULL CHECK (metal IN ('copper', 'aluminium')),
  method     TEXT NOT NULL CHECK (method IN ('A1', 'A2', 'B1', 'B2', 'C', 'D')),
  loaded     INTEGER NOT NULL CHECK (loaded IN (2, 3)),       -- loaded conductors
  ampacity_a REAL NOT NULL CHECK (ampacity_a > 0),            -- ampere
  edition    TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source     TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (size, metal, method, loaded)
) STRICT;

-- mm2 and metal, then each method with 2 and 3 loaded conductors; the last column tells whether the row was read.
WITH printed(size, metal, a1_2, a1_3, a2_2, a2_3, b1_2, b1_3, b2_2, b2_3, c_2, c_3, d_2, d_3, seen) AS (VALUES
  ('0.5 mm2',  'copper',      7,    7,    7,    7,    9,    8,    9,    8,   10,    9,   12,   10, 'read'),
  ('0.75 mm2', 'copper',      9,    9,    9,    9,   11,   10,   11,   10,   13,   11,   15,   12, 'read'),
  ('1 mm2',    'copper',     11,   10,   11,   10,   14,   12,   13,   12,   15,   14,   18,   15, 'read'),
  ('1.5 mm2',  'copper',   14.5, 13.5,   14,   13, 17.5, 15.5, 16.5,   15, 19.5, 17.5,   22,   18, 'read'),
  ('2.5 mm2',  'copper',   19.5,   18, 18.5, 17.5,   24,   21,   23,   20,   27,   24,   29,   24, 'read'),
  ('4 mm2',    'copper',     26,   24,   25,   23,   32,   28,   30,   27,   36,   32,   38,   31, 'read'),
  ('6 mm2',    'copper',     34,   31,   32,   29,   41,   36,   38,   34,   46,   41,   47,   39, 'read'),
  ('10 mm2',   'copper',     46,   42,   43,   39,   57,   50,   52,   46,   63,   57,   63,   52, 'read'),
  ('16 mm2',   'copper',     61,   56,   57,   52,   76,   68,   69,   62,   85,   76,   81,   67, 'read'),
  ('25 mm2',   'copper',     80,   73,   75,   68,  101,   89,   90,   80,  112,   96,  104,   86, 'read'),
  ('35 mm2',   'copper',     99,   89,   92,   83,  125,  110,  111,   99,  138,  119,  125,  103, 'read'),
  ('50 mm2',   'copper',    119,  108,  110,   99,  151,  134,  133,  118,  168,  144,  148,  122, 'read'),
  ('70 mm2',   'copper',    151,  136,  139,  125,  192,  171,  168,  149,  213,  184,  183,  151, 'read'),
  ('95 mm2',   'copper',    182,  164,  167,  150,  232,  207,  201,  179,  258,  223,  216,  179, 'read'),
  ('120 mm2',  'copper',    210,  188,  192,  172,  269,  239,  232,  206,  299,  259,  246,  203, 'read'),
  ('150 mm2',  'copper',    240,  216,  219,  196,  309,  275,  265,  236,  344,  299,  278,  230, 'read'),
  ('185 mm2',  'copper',    273,  245,  248,  223,  353,  314,  300,  268,  392,  341,  312,  258, 'read'),
  ('240 mm2',  'copper',    321,  286,  291,  261,  415,  370,  351,  313,  461,  403,  361,  297, 'read'),
  ('300 mm2',  'copper',    367,  328,  334,  298,  477,  426,  401,  358,  530,  464,  408,  336, 'read'),
  ('16 mm2',   'aluminium',  48,   43,   44,   41,   60,   53,   54,   48,   66,   59,   62,   52, 'read'),
  ('25 mm2',   'aluminium',  63,   57,   58,   53,   79,   70,   71,   62,   83,   73,   80,   66, 'read'),
  ('35 mm2',   'aluminium',  77,   70,   71,   65,   97,   86,   86,   77,  103,   90,   96,   80, 'read'),
  ('50 mm2',   'aluminium',  93,   84,   86,   78,  118,  104,  104,   92,  125,  110,  113,   94, 'read'),
  ('70 mm2',   'aluminium', 118,  107,  108,   98,  150,  133,  131,  116,  160,  140,  140,  117, 'read'),
  ('95 mm2',   'aluminium', 142,  129,  130,  118,  181,  161,  157,  139,  195,  170,  166,  138, 'from memory'),
  ('120 mm2',  'aluminium', 164,  149,  150,  135,  210,  186,  181,  160,  226,  197,  189,  157, 'from memory'),
  ('150 mm2',  'aluminium', 189,  170,  172,  155,  241,  214,  206,  183,  261,  227,  213,  178, 'from memory'),
  ('185 mm2',  'aluminium', 215,  194,  195,  176,  275,  245,  234,  208,  298,  259,  240,  200, 'from memory'),
  ('240 mm2',  'aluminium', 252,  227,  229,  207,  324,  288,  274,  243,  352,  307,  277,  230, 'from memory'),
  ('300 mm2',  'aluminium', 289,  261,  263,  237,  372,  331,  313,  278,  406,  351,  313,  260, 'from memory')
)
INSERT INTO ref_ampacity_iec(size, metal, method, loaded, ampacity_a, edition, source)
SELECT size, metal, method, loaded, ampacity, '2009',
       'IEC 60364-5-52 Tables B.52.2 and B.52.4; '
       || iif(seen = 'read', 'read in ABNT NBR 5410:2004 Table 36, which reprints them', 'from memory, as reprinted in ABNT NBR 5410:2004 Table 36')
FROM (
  SELECT size, metal, 'A1' AS method, 2 AS loaded, a1_2 AS ampacity, seen FROM printed
  UNION ALL SELECT size, metal, 'A1', 3, a1_3, seen FROM printed
  UNION ALL SELECT size, metal, 'A2', 2, a2_2, seen FROM printed
  UNION ALL SELECT size, metal, 'A2', 3, a2_3, seen FROM printed
  UNION ALL SELECT size, metal, 'B1', 2, b1_2, seen FROM printed
  UNION ALL SELECT size, metal, 'B1', 3, b1_3, seen FROM printed
  UNION ALL SELECT size, metal, 'B2', 2, b2_2, seen FROM printed
  UNION ALL SELECT size, metal, 'B2', 3, b2_3, seen FROM printed
  UNION ALL SELECT size, metal, 'C', 2, c_2, seen FROM printed
  UNION ALL SELECT size, metal, 'C', 3, c_3, seen FROM printed
  UNION ALL SELECT size, metal, 'D', 2, d_2, seen FROM printed
  UNION ALL SELECT size, metal, 'D', 3, d_3, seen FROM printed
);
