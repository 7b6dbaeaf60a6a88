-- Ampacity under IEC 60364 by insulation, installation method and number of loaded conductors.
-- A1 to C: 30 degree C air; D1 (in a duct), D2 (in the ground itself): 20 degree C ground, soil of 2.5 K m/W.
CREATE TABLE ref_ampacity_iec(
  rules      TEXT NOT NULL REFERENCES ref_rule_set(id),
  size       TEXT NOT NULL,                                   -- as in ref_conductor
  metal      TEXT NOT NULL CHECK (metal IN ('copper', 'aluminium')),
  insulation TEXT NOT NULL CHECK (insulation IN ('pvc', 'xlpe')),  -- pvc: 70 degree C at the conductor, xlpe: 90
  method     TEXT NOT NULL CHECK (method IN ('A1', 'A2', 'B1', 'B2', 'C', 'D1', 'D2')),
  loaded     INTEGER NOT NULL CHECK (loaded IN (2, 3)),       -- loaded conductors
  ampacity_a REAL NOT NULL CHECK (ampacity_a > 0),            -- ampere
  edition    TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source     TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, size, metal, insulation, method, loaded)
) STRICT;

-- Insulation, metal, method, loaded conductors, then the ampacity of each size; NULL: no figure in the table. The last
-- column tells in how many public reprints the row was read.
WITH printed(insulation, metal, method, loaded, s1_5, s2_5, s4, s6, s10, s16, s25, s35, s50, s70, s95, s120,
   s150, s185, s240, s300, seen) AS (VALUES
  ('pvc', 'copper',   'A1', 2, 14.5, 19.5,   26,   34,   46,   61,   80,   99,  119,  151,  182,  210,  240,  273,  321,  367, 'three'),
  ('pvc', 'copper',   'A1', 3, 13.5,   18,   24,   31,   42,   56,   73,   89,  108,  136,  164,  188,  216,  245,  286,  328, 'three'),
  ('pvc', 'copper',   'A2', 2,   14, 18.5,   25,   32,   43,   57,   75,   92,  110,  139,  167,  192,  219,  248,  291,  334, 'three'),
  ('pvc', 'copper',   'A2', 3,   13, 17.5,   23,   29,   39,   52,   68,   83,   99,  125,  150,  172,  196,  223,  261,  298, 'three'),
  ('pvc', 'copper',   'B1', 2, 17.5,   24,   32,   41,   57,   76,  101,  125,  151,  192,  232,  269,  300,  341,  400,  458, 'three'),
  ('pvc', 'copper',   'B1', 3, 15.5,   21,   28,   36,   50,   68,   89,  110,  134,  171,  207,  239,  262,  296,  346,  394, 'three'),
  ('pvc', 'copper',   'B2', 2, 16.5,   23,   30,   38,   52,   69,   90,  111,  133,  168,  201,  232,  258,  294,  344,  394, 'three'),
  ('pvc', 'copper',   'B2', 3,   15,   20,   27,   34,   46,   62,   80,   99,  118,  149,  179,  206,  225,  255,  297,  339, 'three'),
  ('pvc', 'copper',   'C', 2, 19.5,   27,   36,   46,   63,   85,  112,  138,  168,  213,  258,  299,  344,  392,  461,  530, 'three'),
  ('pvc', 'copper',   'C', 3, 17.5,   24,   32,   41,   57,   76,   96,  119,  144,  184,  223,  259,  299,  341,  403,  464, 'three'),
  ('pvc', 'copper',   'D1', 2,   22,   29,   37,   46,   60,   78,   99,  119,  140,  173,  204,  231,  261,  292,  336,  379, 'three'),
  ('pvc', 'copper',   'D1', 3,   18,   24,   30,   38,   50,   64,   82,   98,  116,  143,  169,  192,  217,  243,  280,  316, 'three'),
  ('pvc', 'copper',   'D2', 2,   22,   28,   38,   48,   64,   83,  110,  132,  156,  192,  230,  261,  293,  331,  382,  427, 'three'),
  ('pvc', 'copper',   'D2', 3,   19,   24,   33,   41,   54,   70,   92,  110,  130,  162,  193,  220,  246,  278,  320,  359, 'three'),
  ('pvc', 'aluminium', 'A1', 2, NULL,   15,   20,   26,   36,   48,   63,   77,   93,  118,  142,  164,  189,  215,  252,  289, 'one'),
  ('pvc', 'aluminium', 'A1', 3, NULL,   14, 18.5,   24,   32,   43,   57,   70,   84,  107,  129,  149,  170,  194,  227,  261, 'several'),
  ('pvc', 'aluminium', 'A2', 2, NULL, 14.5, 19.5,   25,   33,   44,   58,   71,   86,  108,  130,  150,  172,  195,  229,  263, 'one'),
  ('pvc', 'aluminium', 'A2', 3, NULL, 13.5, 17.5,   23,   31,   41,   53,   65,   78,   98,  118,  135,  155,  176,  207,  237, 'one'),
  ('pvc', 'aluminium', 'B1', 2, NULL, 18.5,   25,   32,   44,   60,   79,   97,  118,  150,  181,  210,  234,  266,  312,  358, 'one'),
  ('pvc', 'aluminium', 'B1', 3, NULL, 16.5,   22,   28,   39,   53,   70,   86,  104,  133,  161,  186,  204,  230,  269,  306, 'several'),
  ('pvc', 'aluminium', 'B2', 2, NULL, 17.5,   24,   30,   41,   54,   71,   86,  104,  131,  157,  181,  201,  230,  269,  308, 'several'),
  ('pvc', 'aluminium', 'B2', 3, NULL, 15.5,   21,   27,   36,   48,   62,   77,   92,  116,  139,  160,  176,  199,  232,  265, 'several'),
  ('pvc', 'aluminium', 'C', 2, NULL,   21,   28,   36,   49,   66,   83,  103,  125,  160,  195,  226,  261,  298,  352,  406, 'several'),
  ('pvc', 'aluminium', 'C', 3, NULL, 18.5,   25,   32,   44,   59,   73,   90,  110,  140,  170,  197,  227,  259,  305,  351, 'several'),
  ('pvc', 'aluminium', 'D1', 2, NULL,   22,   29,   36,   47,   61,   77,   93,  109,  135,  159,  180,  204,  228,  262,  296, 'several'),
  ('pvc', 'aluminium', 'D1', 3, NULL, 18.5,   24,   30,   39,   50,   64,   77,   91,  112,  132,  150,  169,  190,  218,  247, 'several'),
  ('pvc', 'aluminium', 'D2', 2, NULL, NULL, NULL, NULL, NULL,   63,   82,   98,  117,  145,  173,  200,  224,  255,  298,  336, 'several'),
  ('pvc', 'aluminium', 'D2', 3, NULL, NULL, NULL, NULL, NULL,   53,   69,   83,   99,  122,  148,  169,  189,  214,  250,  282, 'several'),
  ('xlpe', 'copper',   'A1', 2,   19,   26,   35,   45,   61,   81,  106,  131,  158,  200,  241,  278,  318,  362,  424,  486, 'several'),
  ('xlpe', 'copper',   'A1', 3,   17,   23,   31,   40,   54,   73,   95,  117,  141,  179,  216,  249,  285,  324,  380,  435, 'several'),
  ('xlpe', 'copper',   'A2', 2, 18.5,   25,   33,   42,   57,   76,   99,  121,  145,  183,  220,  253,  290,  329,  386,  442, 'several'),
  ('xlpe', 'copper',   'A2', 3, 16.5,   22,   30,   38,   51,   68,   89,  109,  130,  164,  197,  227,  259,  295,  346,  396, 'several'),
  ('xlpe', 'copper',   'B1', 2,   23,   31,   42,   54,   75,  100,  133,  164,  198,  253,  306,  354,  393,  449,  528,  603, 'several'),
  ('xlpe', 'copper',   'B1', 3,   20,   28,   37,   48,   66,   88,  117,  144,  175,  222,  269,  312,  342,  384,  450,  514, 'several'),
  ('xlpe', 'copper',   'B2', 2,   22,   30,   40,   51,   69,   91,  119,  146,  175,  221,  265,  305,  334,  384,  459,  532, 'several'),
  ('xlpe', 'copper',   'B2', 3, 19.5,   26,   35,   44,   60,   80,  105,  128,  154,  194,  233,  268,  300,  340,  398,  455, 'several'),
  ('xlpe', 'copper',   'C', 2,   24,   33,   45,   58,   80,  107,  138,  171,  209,  269,  328,  382,  441,  506,  599,  693, 'several'),
  ('xlpe', 'copper',   'C', 3,   22,   30,   40,   52,   71,   96,  119,  147,  179,  229,  278,  322,  371,  424,  500,  576, 'several'),
  ('xlpe', 'copper',   'D1', 2,   25,   33,   43,   53,   71,   91,  116,  139,  164,  203,  239,  271,  306,  343,  395,  446, 'several'),
  ('xlpe', 'copper',   'D1', 3,   21,   28,   36,   44,   58,   75,   96,  115,  135,  167,  197,  223,  251,  281,  324,  365, 'several'),
  ('xlpe', 'copper',   'D2', 2,   27,   35,   46,   58,   77,  100,  129,  155,  183,  225,  270,  306,  343,  387,  448,  502, 'several'),
  ('xlpe', 'copper',   'D2', 3,   23,   30,   39,   49,   65,   84,  107,  129,  153,  188,  226,  257,  287,  324,  375,  419, 'several'),
  ('xlpe', 'aluminium', 'A1', 2, NULL,   20,   27,   35,   48,   64,   84,  103,  125,  158,  191,  220,  253,  288,  338,  387, 'one'),
  ('xlpe', 'aluminium', 'A1', 3, NULL,   19,   25,   32,   44,   58,   76,   94,  113,  142,  171,  197,  226,  256,  300,  344, 'several'),
  ('xlpe', 'aluminium', 'A2', 2, NULL, 19.5,   26,   33,   45,   60,   78,   96,  115,  145,  175,  201,  230,  262,  307,  352, 'one'),
  ('xlpe', 'aluminium', 'A2', 3, NULL,   18,   24,   31,   41,   55,   71,   87,  104,  131,  157,  180,  206,  233,  273,  313, 'one'),
  ('xlpe', 'aluminium', 'B1', 2, NULL,   25,   33,   43,   59,   79,  105,  130,  157,  200,  242,  281,  307,  351,  412,  471, 'one'),
  ('xlpe', 'aluminium', 'B1', 3, NULL,   22,   29,   38,   52,   71,   93,  116,  140,  179,  217,  251,  267,  300,  351,  402, 'several'),
  ('xlpe', 'aluminium', 'B2', 2, NULL,   23,   31,   40,   54,   72,   94,  115,  138,  175,  210,  242,  261,  300,  358,  415, 'several'),
  ('xlpe', 'aluminium', 'B2', 3, NULL,   21,   28,   35,   48,   64,   84,  103,  124,  156,  188,  216,  240,  272,  318,  364, 'several'),
  ('xlpe', 'aluminium', 'C', 2, NULL,   26,   35,   45,   62,   84,  101,  126,  154,  198,  241,  280,  324,  371,  439,  508, 'one'),
  ('xlpe', 'aluminium', 'C', 3, NULL,   24,   32,   41,   57,   76,   90,  112,  136,  174,  211,  245,  283,  323,  382,  440, 'several'),
  ('xlpe', 'aluminium', 'D1', 2, NULL,   26,   33,   42,   55,   71,   90,  108,  128,  158,  186,  211,  238,  267,  307,  346, 'several'),
  ('xlpe', 'aluminium', 'D1', 3, NULL,   22,   28,   35,   46,   59,   75,   90,  106,  130,  154,  174,  197,  220,  253,  286, 'several'),
  ('xlpe', 'aluminium', 'D2', 2, NULL, NULL, NULL, NULL, NULL,   76,   98,  117,  139,  170,  204,  233,  261,  296,  343,  386, 'several'),
  ('xlpe', 'aluminium', 'D2', 3, NULL, NULL, NULL, NULL, NULL,   64,   82,   98,  117,  144,  172,  197,  220,  250,  290,  326, 'several')
),
sizes(size) AS (VALUES ('1.5 mm2'), ('2.5 mm2'), ('4 mm2'), ('6 mm2'), ('10 mm2'), ('16 mm2'), ('25 mm2'), ('35 mm2'),
  ('50 mm2'), ('70 mm2'), ('95 mm2'), ('120 mm2'), ('150 mm2'), ('185 mm2'), ('240 mm2'), ('300 mm2')),
cell AS (
  SELECT sizes.size, metal, insulation, method, loaded, seen,
    CASE sizes.size WHEN '1.5 mm2' THEN s1_5 WHEN '2.5 mm2' THEN s2_5 WHEN '4 mm2' THEN s4 WHEN '6 mm2' THEN s6
          WHEN '10 mm2' THEN s10 WHEN '16 mm2' THEN s16 WHEN '25 mm2' THEN s25 WHEN '35 mm2' THEN s35 WHEN '50 mm2' THEN s50
          WHEN '70 mm2' THEN s70 WHEN '95 mm2' THEN s95 WHEN '120 mm2' THEN s120 WHEN '150 mm2' THEN s150
          WHEN '185 mm2' THEN s185 WHEN '240 mm2' THEN s240 WHEN '300 mm2' THEN s300 END AS ampacity
  FROM printed, sizes
)
INSERT INTO ref_ampacity_iec(rules, size, metal, insulation, method, loaded, ampacity_a, edition, source)
SELECT 'iec', size, metal, insulation, method, loaded, ampacity, '2009',
       'IEC 60364-5-52 Table '
       || CASE insulation || loaded WHEN 'pvc2' THEN 'B.52.2' WHEN 'pvc3' THEN 'B.52.4' WHEN 'xlpe2' THEN 'B.52.3' ELSE 'B.52.5' END
       || '; read in ' || CASE seen WHEN 'one' THEN 'one public reprint' WHEN 'three' THEN 'three public reprints that agree'
          ELSE 'public reprints that agree' END
FROM cell WHERE ampacity IS NOT NULL;
