-- Words in the ID or name of a room that say what kind of room it is, in any language.
CREATE TABLE ref_room_word(
  word     TEXT NOT NULL PRIMARY KEY CHECK (word GLOB '[^ ][^ ]*' AND word = lower(word)),  -- one word or several, lower case
  kind     TEXT NOT NULL CHECK (kind IN ('bath', 'kitchen', 'laundry', 'garage', 'outdoors', 'basement', 'crawl-space', 'bedroom',
             'living', 'hall', 'utility', 'pool')),
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0)
) STRICT;

INSERT INTO ref_room_word(word, kind, edition, source)
SELECT column1, column2, 'common practice', 'words of everyday speech' FROM (VALUES
  ('bath', 'bath'), ('bathroom', 'bath'), ('shower room', 'bath'), ('ensuite', 'bath'), ('en suite', 'bath'), ('powder room', 'bath'),
  ('bad', 'bath'), ('badezimmer', 'bath'), ('salle de bains', 'bath'), ('salle de bain', 'bath'), ('baño', 'bath'),
  ('kitchen', 'kitchen'), ('pantry', 'kitchen'), ('küche', 'kitchen'), ('cuisine', 'kitchen'), ('cocina', 'kitchen'),
  ('laundry', 'laundry'), ('waschküche', 'laundry'), ('buanderie', 'laundry'), ('lavadero', 'laundry'),
  ('garage', 'garage'), ('carport', 'garage'), ('garaje', 'garage'),
  ('outdoors', 'outdoors'), ('outdoor', 'outdoors'), ('outside', 'outdoors'), ('garden', 'outdoors'), ('yard', 'outdoors'),
  ('patio', 'outdoors'), ('terrace', 'outdoors'), ('balcony', 'outdoors'), ('deck', 'outdoors'), ('porch', 'outdoors'),
  ('driveway', 'outdoors'), ('garten', 'outdoors'), ('hof', 'outdoors'), ('terrasse', 'outdoors'), ('balkon', 'outdoors'),
  ('jardin', 'outdoors'), ('jardín', 'outdoors'), ('balcon', 'outdoors'), ('terraza', 'outdoors'),
  ('basement', 'basement'), ('cellar', 'basement'), ('keller', 'basement'), ('cave', 'basement'), ('sous sol', 'basement'),
  ('sótano', 'basement'), ('crawl space', 'crawl-space'), ('crawlspace', 'crawl-space'),
  ('bedroom', 'bedroom'), ('nursery', 'bedroom'), ('guest room', 'bedroom'), ('kids room', 'bedroom'), ('schlafzimmer', 'bedroom'),
  ('kinderzimmer', 'bedroom'), ('chambre', 'bedroom'), ('dormitorio', 'bedroom'),
  ('living', 'living'), ('living room', 'living'), ('lounge', 'living'), ('sitting room', 'living'), ('family room', 'living'),
  ('dining', 'living'), ('dining room', 'living'), ('den', 'living'), ('study', 'living'), ('library', 'living'),
  ('office', 'living'), ('sunroom', 'living'), ('rec room', 'living'), ('wohnzimmer', 'living'), ('esszimmer', 'living'),
  ('arbeitszimmer', 'living'), ('salon', 'living'), ('séjour', 'living'), ('salón', 'living'), ('comedor', 'living'),
  ('hall', 'hall'), ('hallway', 'hall'), ('landing', 'hall'), ('stairs', 'hall'), ('closet', 'hall'), ('corridor', 'hall'),
  ('entry', 'hall'), ('flur', 'hall'), ('diele', 'hall'), ('couloir', 'hall'), ('entrée', 'hall'), ('pasillo', 'hall'),
  ('utility', 'utility'), ('utility room', 'utility'), ('plant room', 'utility'), ('boiler room', 'utility'),
  ('hauswirtschaftsraum', 'utility'), ('heizraum', 'utility'),
  ('pool', 'pool'), ('swimming pool', 'pool'), ('schwimmbad', 'pool'), ('piscine', 'pool'), ('piscina', 'pool')
);
