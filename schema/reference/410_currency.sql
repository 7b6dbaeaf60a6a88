-- Currencies and the decimals of their minor unit.
CREATE TABLE ref_currency(
  code        TEXT NOT NULL PRIMARY KEY CHECK (length(code) = 3 AND code = upper(code)),
  name        TEXT NOT NULL CHECK (length(name) > 0),
  minor_units INTEGER NOT NULL CHECK (minor_units BETWEEN 0 AND 4),  -- decimals of an amount
  edition     TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source      TEXT NOT NULL CHECK (length(trim(source)) > 0)
) STRICT;

INSERT INTO ref_currency(code, name, minor_units, edition, source)
SELECT column1, column2, column3, '2015', 'ISO 4217, lists one and three; codes and decimals read in a public data set of them' FROM (VALUES
  ('AED', 'UAE dirham', 2), ('AFN', 'Afghani', 2), ('ALL', 'Lek', 2), ('AMD', 'Armenian dram', 2),
  ('ANG', 'Netherlands Antillean guilder', 2), ('AOA', 'Kwanza', 2), ('ARS', 'Argentine peso', 2), ('AUD', 'Australian dollar', 2),
  ('AWG', 'Aruban florin', 2), ('AZN', 'Azerbaijan manat', 2), ('BAM', 'Convertible mark', 2), ('BBD', 'Barbados dollar', 2),
  ('BDT', 'Taka', 2), ('BGN', 'Bulgarian lev', 2), ('BHD', 'Bahraini dinar', 3), ('BIF', 'Burundi franc', 0),
  ('BMD', 'Bermudian dollar', 2), ('BND', 'Brunei dollar', 2), ('BOB', 'Boliviano', 2), ('BRL', 'Brazilian real', 2),
  ('BSD', 'Bahamian dollar', 2), ('BTN', 'Ngultrum', 2), ('BWP', 'Pula', 2), ('BYN', 'Belarusian ruble', 2),
  ('BZD', 'Belize dollar', 2), ('CAD', 'Canadian dollar', 2), ('CDF', 'Congolese franc', 2), ('CHF', 'Swiss franc', 2),
  ('CLF', 'Unidad de fomento', 4), ('CLP', 'Chilean peso', 0), ('CNY', 'Yuan renminbi', 2), ('COP', 'Colombian peso', 2),
  ('CRC', 'Costa Rican colon', 2), ('CUP', 'Cuban peso', 2), ('CVE', 'Cabo Verde escudo', 2), ('CZK', 'Czech koruna', 2),
  ('DJF', 'Djibouti franc', 0), ('DKK', 'Danish krone', 2), ('DOP', 'Dominican peso', 2), ('DZD', 'Algerian dinar', 2),
  ('EGP', 'Egyptian pound', 2), ('ERN', 'Nakfa', 2), ('ETB', 'Ethiopian birr', 2), ('EUR', 'Euro', 2),
  ('FJD', 'Fiji dollar', 2), ('FKP', 'Falkland Islands pound', 2), ('GBP', 'Pound sterling', 2), ('GEL', 'Lari', 2),
  ('GHS', 'Ghana cedi', 2), ('GIP', 'Gibraltar pound', 2), ('GMD', 'Dalasi', 2), ('GNF', 'Guinean franc', 0),
  ('GTQ', 'Quetzal', 2), ('GYD', 'Guyana dollar', 2), ('HKD', 'Hong Kong dollar', 2), ('HNL', 'Lempira', 2),
  ('HTG', 'Gourde', 2), ('HUF', 'Forint', 2), ('IDR', 'Rupiah', 2), ('ILS', 'New Israeli sheqel', 2),
  ('INR', 'Indian rupee', 2), ('IQD', 'Iraqi dinar', 3), ('IRR', 'Iranian rial', 2), ('ISK', 'Iceland krona', 0),
  ('JMD', 'Jamaican dollar', 2), ('JOD', 'Jordanian dinar', 3), ('JPY', 'Yen', 0), ('KES', 'Kenyan shilling', 2),
  ('KGS', 'Som', 2), ('KHR', 'Riel', 2), ('KMF', 'Comorian franc', 0), ('KPW', 'North Korean won', 2),
  ('KRW', 'Won', 0), ('KWD', 'Kuwaiti dinar', 3), ('KYD', 'Cayman Islands dollar', 2), ('KZT', 'Tenge', 2),
  ('LAK', 'Lao kip', 2), ('LBP', 'Lebanese pound', 2), ('LKR', 'Sri Lanka rupee', 2), ('LRD', 'Liberian dollar', 2),
  ('LSL', 'Loti', 2), ('LYD', 'Libyan dinar', 3), ('MAD', 'Moroccan dirham', 2), ('MDL', 'Moldovan leu', 2),
  ('MGA', 'Malagasy ariary', 2), ('MKD', 'Denar', 2), ('MMK', 'Kyat', 2), ('MNT', 'Tugrik', 2),
  ('MOP', 'Pataca', 2), ('MRU', 'Ouguiya', 2), ('MUR', 'Mauritius rupee', 2), ('MVR', 'Rufiyaa', 2),
  ('MWK', 'Malawi kwacha', 2), ('MXN', 'Mexican peso', 2), ('MYR', 'Malaysian ringgit', 2), ('MZN', 'Mozambique metical', 2),
  ('NAD', 'Namibia dollar', 2), ('NGN', 'Naira', 2), ('NIO', 'Cordoba oro', 2), ('NOK', 'Norwegian krone', 2),
  ('NPR', 'Nepalese rupee', 2), ('NZD', 'New Zealand dollar', 2), ('OMR', 'Rial Omani', 3), ('PAB', 'Balboa', 2),
  ('PEN', 'Sol', 2), ('PGK', 'Kina', 2), ('PHP', 'Philippine peso', 2), ('PKR', 'Pakistan rupee', 2),
  ('PLN', 'Zloty', 2), ('PYG', 'Guarani', 0), ('QAR', 'Qatari rial', 2), ('RON', 'Romanian leu', 2),
  ('RSD', 'Serbian dinar', 2), ('RUB', 'Russian ruble', 2), ('RWF', 'Rwanda franc', 0), ('SAR', 'Saudi riyal', 2),
  ('SBD', 'Solomon Islands dollar', 2), ('SCR', 'Seychelles rupee', 2), ('SDG', 'Sudanese pound', 2), ('SEK', 'Swedish krona', 2),
  ('SGD', 'Singapore dollar', 2), ('SHP', 'Saint Helena pound', 2), ('SLE', 'Leone', 2), ('SOS', 'Somali shilling', 2),
  ('SRD', 'Surinam dollar', 2), ('SSP', 'South Sudanese pound', 2), ('STN', 'Dobra', 2), ('SVC', 'El Salvador colon', 2),
  ('SYP', 'Syrian pound', 2), ('SZL', 'Lilangeni', 2), ('THB', 'Baht', 2), ('TJS', 'Somoni', 2),
  ('TMT', 'Turkmenistan new manat', 2), ('TND', 'Tunisian dinar', 3), ('TOP', 'Pa''anga', 2), ('TRY', 'Turkish lira', 2),
  ('TTD', 'Trinidad and Tobago dollar', 2), ('TWD', 'New Taiwan dollar', 2), ('TZS', 'Tanzanian shilling', 2), ('UAH', 'Hryvnia', 2),
  ('UGX', 'Uganda shilling', 0), ('USD', 'US dollar', 2), ('UYU', 'Peso uruguayo', 2), ('UZS', 'Uzbekistan sum', 2),
  ('VED', 'Bolivar digital', 2), ('VES', 'Bolivar soberano', 2), ('VND', 'Dong', 0), ('VUV', 'Vatu', 0),
  ('WST', 'Tala', 2), ('XAF', 'CFA franc BEAC', 0), ('XCD', 'East Caribbean dollar', 2), ('XCG', 'Caribbean guilder', 2),
  ('XOF', 'CFA franc BCEAO', 0), ('XPF', 'CFP franc', 0), ('YER', 'Yemeni rial', 2), ('ZAR', 'Rand', 2),
  ('ZMW', 'Zambian kwacha', 2), ('ZWG', 'Zimbabwe gold', 2),
  -- codes of funds, which ISO 4217 lists beside the currencies
  ('BOV', 'Mvdol', 2), ('CHE', 'WIR euro', 2), ('CHW', 'WIR franc', 2), ('COU', 'Unidad de valor real', 2),
  ('MXV', 'Mexican unidad de inversion', 2), ('USN', 'US dollar, next day', 2), ('UYI', 'Uruguay peso en unidades indexadas', 0),
  ('UYW', 'Unidad previsional', 4)
);
