-- Ratings of receptacles on a branch with two or more places for a plug.
CREATE TABLE ref_receptacle_rating(
  rules        TEXT NOT NULL REFERENCES ref_rule_set(id),
  circuit_a    REAL NOT NULL CHECK (circuit_a > 0),           -- rating of the branch, ampere
  from_edition INTEGER NOT NULL,                              -- from this edition on, up to the branch's next row
  least_a      REAL NOT NULL CHECK (least_a > 0),             -- smallest rating of a receptacle, ampere
  most_a       REAL CHECK (most_a >= least_a),                -- largest one; NULL: none
  clause       TEXT NOT NULL CHECK (length(clause) > 0),
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, circuit_a, from_edition)
) STRICT;

INSERT INTO ref_receptacle_rating(rules, circuit_a, from_edition, least_a, most_a, clause, edition, source)
SELECT 'us', column1, column2, column3, column4, 'Table 210.21(B)(3)', cast(column2 AS TEXT),
       'NFPA 70 (National Electrical Code) ' || column5 FROM (VALUES
  (15, 2017, 15, 15,   'Table 210.21(B)(3); read in a trade forum'),
  (15, 2023, 15, NULL, 'Table 210.21(B)(3), not less than; read in a trade forum'),
  (20, 2017, 15, 20,   'Table 210.21(B)(3); read in a trade forum'),
  (20, 2023, 15, NULL, 'Table 210.21(B)(3), not less than; read in a trade forum'),
  (30, 2017, 30, 30,   'Table 210.24, receptacle line; read'),
  (40, 2017, 40, 50,   'Table 210.24, receptacle line; read'),
  (50, 2017, 50, 50,   'Table 210.24, receptacle line; read')
);
