-- schema 0006: 55 transactions, last digest 7b479959b7d3f081bfbb39c18bcc9c0579b53d883e9afe57599df7a46bed9575
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0006');
CREATE TABLE baselines (
	id INTEGER NOT NULL, 
	judging_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	"insert" TEXT NOT NULL, 
	channel TEXT NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	n_shots BIGINT NOT NULL, 
	centre DOUBLE, 
	spread DOUBLE, 
	lower DOUBLE, 
	upper DOUBLE, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "baselines" VALUES(1,1,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "baselines" VALUES(2,1,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "baselines" VALUES(3,1,1,'B-11','fill_time',4,9,6,0.41,0.0,4.01999999999999968469e-01,0.418);
INSERT INTO "baselines" VALUES(4,7,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "baselines" VALUES(5,7,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "baselines" VALUES(6,7,1,'B-11','fill_time',4,9,6,0.41,0.0,4.01999999999999968469e-01,0.418);
CREATE TABLE bath_checks (
	id INTEGER NOT NULL, 
	bath_id INTEGER NOT NULL, 
	concentration DOUBLE, 
	temperature DOUBLE, 
	checked TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(bath_id) REFERENCES baths (id)
);
CREATE TABLE baths (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	concentration_low DOUBLE, 
	concentration_high DOUBLE, 
	temperature_low DOUBLE, 
	temperature_high DOUBLE, 
	made_up TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "baths" VALUES(1,'north',NULL,NULL,NULL,NULL,'2026-11-28T16:15:22.066928Z','','2026-11-28T16:15:22.066928Z');
CREATE TABLE checkpoints (
	id INTEGER NOT NULL, 
	judging_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	basis TEXT NOT NULL, 
	state TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
CREATE TABLE corrections (
	id INTEGER NOT NULL, 
	entry TEXT NOT NULL, 
	entry_id BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (entry, entry_id)
);
INSERT INTO "corrections" VALUES(1,'events',2,'mistyped','2026-11-28T16:15:23.853566Z');
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-28T16:13:59.501776Z');
CREATE TABLE dimensions (
	id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	value_mm DOUBLE NOT NULL, 
	instrument TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id)
);
CREATE TABLE dispositions (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	cavity BIGINT, 
	decision TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "dispositions" VALUES(1,1,22,22,1,'scrapped','flash','','2026-11-28T16:15:23.197529Z');
INSERT INTO "dispositions" VALUES(2,1,19,19,1,'released','looked at','','2026-11-28T16:15:23.557872Z');
CREATE TABLE events (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	at_shot BIGINT NOT NULL, 
	kind TEXT NOT NULL, 
	text TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "events" VALUES(1,1,22,'finding','flash','2026-11-28T16:15:17.680957Z');
INSERT INTO "events" VALUES(2,1,25,'lot','L2','2026-11-28T16:15:18.652960Z');
INSERT INTO "events" VALUES(3,1,26,'lot','L3','2026-11-28T16:15:19.151018Z');
CREATE TABLE faults (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT, 
	kind TEXT NOT NULL, 
	detail TEXT NOT NULL, 
	raw BLOB NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "faults" VALUES(1,1,8,'torn','values changed while they were read',X'0102','2026-01-05T06:08:00.000000Z');
CREATE TABLE gaps (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "gaps" VALUES(1,1,11,12,'counter went on from 10 to 13','2026-01-05T06:11:00.000000Z');
CREATE TABLE inserts (
	id INTEGER NOT NULL, 
	serial TEXT NOT NULL, 
	design_id INTEGER, 
	print_batch TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(design_id) REFERENCES designs (id), 
	UNIQUE (serial)
);
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-28T16:13:59.501776Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-28T16:13:59.575409Z');
INSERT INTO "inserts" VALUES(3,'B-12',1,'','2026-11-28T16:14:30.310896Z');
CREATE TABLE inspections (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	cavity BIGINT NOT NULL, 
	quantity TEXT NOT NULL, 
	value DOUBLE, 
	low DOUBLE, 
	high DOUBLE, 
	unit TEXT NOT NULL, 
	given TEXT NOT NULL, 
	finding TEXT NOT NULL, 
	half TEXT NOT NULL, 
	instrument TEXT NOT NULL, 
	inspected TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "inspections" VALUES(1,1,4,1,'wall',1.21,1.1,1.3,'mm','1.21 mm','','','','2026-11-28T16:15:22.584485Z','','2026-11-28T16:15:22.584485Z');
INSERT INTO "inspections" VALUES(2,1,21,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-28T16:15:22.833749Z','','2026-11-28T16:15:22.833749Z');
CREATE TABLE judgings (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	from_shot BIGINT NOT NULL, 
	basis TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "judgings" VALUES(1,1,0,'f3b30ab54ba997a2','first judging','2026-01-05T06:00:00.000000Z');
INSERT INTO "judgings" VALUES(2,1,23,'f3b30ab54ba997a2','mounting of B-12 in moving at shot 23, entered after shot 26','2026-11-28T16:14:30.310896Z');
INSERT INTO "judgings" VALUES(3,1,22,'f3b30ab54ba997a2','finding at shot 22, entered after shot 26','2026-11-28T16:15:17.680957Z');
INSERT INTO "judgings" VALUES(4,1,25,'f3b30ab54ba997a2','lot at shot 25, entered after shot 26','2026-11-28T16:15:18.652960Z');
INSERT INTO "judgings" VALUES(5,1,26,'f3b30ab54ba997a2','lot at shot 26, entered after shot 26','2026-11-28T16:15:19.151018Z');
INSERT INTO "judgings" VALUES(6,1,26,'f3b30ab54ba997a2','removal of A-07 at shot 26, entered after shot 26','2026-11-28T16:15:19.948250Z');
INSERT INTO "judgings" VALUES(7,1,1,'f3b30ab54ba997a2','making of B-11 said otherwise, entered after shot 26','2026-11-28T16:15:20.686468Z');
INSERT INTO "judgings" VALUES(8,1,25,'f3b30ab54ba997a2','entry taken back: mistyped, entered after shot 26','2026-11-28T16:15:23.853566Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'trials:1','a1f7c375cd890f4ec48ad914fdc0aab3ffffa38c831a6a0d20f6469a2b4f3fee',NULL);
INSERT INTO "ledger" VALUES(2,'presses:1 designs:1 inserts:1 mountings:1','770ea0ac575fb132ece9d124773960eb77400424a551384529184ab27f4b9250',NULL);
INSERT INTO "ledger" VALUES(3,'inserts:2 mountings:2','21d68cf93b9fa5f2580fccb3947ece2c803fffc73bff869db2d8adaadd885bba',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1','d14bd2bf13e04d62aedbcc6d389d617d4034e467cbb3bfb0cc29315450c3f5e9',NULL);
INSERT INTO "ledger" VALUES(5,'shots:2','983cced05eaab6a70b6db9a723aff44bb9313ab238468969f9241b964ec688fc',NULL);
INSERT INTO "ledger" VALUES(6,'shots:3','95481db5a4465a1f8ccb0a5e317e69fb7fbe7f1b50238a2cdcae42ea3003a328',NULL);
INSERT INTO "ledger" VALUES(7,'shots:4','47d262338587f6f21da23c86149b5bf68aba3e3af4ab684520feed8ddc8d4d20',NULL);
INSERT INTO "ledger" VALUES(8,'shots:5','94a4328e1c9c9f6589e527be06a134987bd85bfd63f126a2eefde63624e05efe',NULL);
INSERT INTO "ledger" VALUES(9,'shots:6','2bce24495b32598e64bd6c991b14c6343316cca3cc97176ebdafe840c2f630ec',NULL);
INSERT INTO "ledger" VALUES(10,'shots:7','f39b6905436882625b12cbd94bc6143fdaafbc4ae73f3383cae6651ffd7bdc51',NULL);
INSERT INTO "ledger" VALUES(11,'faults:1','6894ef48f97889158a192ad179dce1da4713d71eb9604d819e69e7f898136f8d',NULL);
INSERT INTO "ledger" VALUES(12,'shots:8','31b4ede0527e9c83170a93deb4c24ec823cf2934266777dd1073c083d4413978',NULL);
INSERT INTO "ledger" VALUES(13,'shots:9','0b6318567a4bbd56b256864fce49b188ef282fb67cbb2a083f52399444a60e5c',NULL);
INSERT INTO "ledger" VALUES(14,'shots:10','87df22e92e535dc26d39f1b38232649d9a6d9e2e120c4c0c1720a165821ef35d',NULL);
INSERT INTO "ledger" VALUES(15,'gaps:1','f69b8512e2feb46ebf27f65e60c1e6ca62884eae9e7ad60d6c381fb4e4822867',NULL);
INSERT INTO "ledger" VALUES(16,'shots:11','499a871e4f5e80dd74d95a2b79cc4343e588d5447b187833e68a38bf7a270f8b',NULL);
INSERT INTO "ledger" VALUES(17,'shots:12','bd9d6602877b1b07c90d53175efdb44b7d1b2621b9ddcdf5e1959f72c6664dde',NULL);
INSERT INTO "ledger" VALUES(18,'shots:13','1d368cbbb6201bd6034522e3b87958e664c4f20d522c51b36267fe4cd0a1e059',NULL);
INSERT INTO "ledger" VALUES(19,'shots:14','5ab45999b146f5e82f49e4f4972c48ca030ff52f131dbe20b8a4d282ad2c4938',NULL);
INSERT INTO "ledger" VALUES(20,'shots:15','7fd2c760387ae9501a898715c9b2e6e314b650466d01d78a8345b91b43cb68ca',NULL);
INSERT INTO "ledger" VALUES(21,'shots:16','186afadbd4cee029dd42ba2e1c5f36f8687f7559d347fd1fad94ded3146800d3',NULL);
INSERT INTO "ledger" VALUES(22,'shots:17','a2bf0369fc8b07d325dce5672884dbbf979739e238840cfee47f45d6f246412e',NULL);
INSERT INTO "ledger" VALUES(23,'shots:18','fd90453d51f6e2ab5f3fdf3e428de414a0bf32441e8d865acaa9b21b5f5db869',NULL);
INSERT INTO "ledger" VALUES(24,'shots:19','2322455d85c841104a7603fe774408629f27155fcf4c93b936e1d4c2ae53ff45',NULL);
INSERT INTO "ledger" VALUES(25,'shots:20','da9711ecdc212acab6ea41383a0743c5cea86e6c899514323037b6e2b8249b6e',NULL);
INSERT INTO "ledger" VALUES(26,'shots:21','9c5ea7260aaef9d67ed50d5e654a624ef166c8c4e86bc474bf54dfa23d2823c7',NULL);
INSERT INTO "ledger" VALUES(27,'shots:22','477629dd81f3314f3712c3e5cc2a9a71b3f1d7ac921cfb0d101d11df5ef924df',NULL);
INSERT INTO "ledger" VALUES(28,'shots:23','662087d30ef5b139776616af6f16ce125e4d3f1c87b1ce025f136cefbec0f485',NULL);
INSERT INTO "ledger" VALUES(29,'shots:24','a943f40412fadd1375b7fcbebfc43d4cb5b1c74e787fe9be052bdce83eac132d',NULL);
INSERT INTO "ledger" VALUES(30,'links:1','43cb93f9aae1fe89dd85007625ade048220cb380dbbedc9fa6e7479e78a1fdee',NULL);
INSERT INTO "ledger" VALUES(31,'weighings:1','0895aa48d2788b4179a81369f015372256f10bcc29d5518d9a4f1551dcd2528c',NULL);
INSERT INTO "ledger" VALUES(32,'judgings:1 verdicts:1 verdicts:2 verdicts:3 verdicts:4 verdicts:5 verdicts:6 verdicts:7 verdicts:8 baselines:1 baselines:2 baselines:3 verdicts:9 verdicts:10 verdicts:11 verdicts:12 signals:1 verdicts:13 signals:2 signals:3 verdicts:14 signals:4 signals:5 verdicts:15 signals:6 signals:7 verdicts:16 signals:8 signals:9 verdicts:17 signals:10 signals:11 verdicts:18 signals:12 signals:13 verdicts:19 signals:14 signals:15 verdicts:20 signals:16 signals:17 verdicts:21 verdicts:22 verdicts:23 verdicts:24','556e7adaf2c75b6701bce0b1f2562421a427d341eded1c07415fd3313d462eaf',NULL);
INSERT INTO "ledger" VALUES(33,'inserts:3 mountings:3 judgings:2','fec19e3c5a8a8b9318b806f7ecedd29054e90f62f37a7a6ecd860f7e769acd58',NULL);
INSERT INTO "ledger" VALUES(34,'verdicts:25','830fe1d67ea46d454d0a787703270b4c0c24076f0563f29dafa01c959699ded1',NULL);
INSERT INTO "ledger" VALUES(35,'verdicts:26 verdicts:27 verdicts:28','33f9ab2472a542c7377cdd35efdc11e426e8ae854517d6394a42145443471e75',NULL);
INSERT INTO "ledger" VALUES(36,'events:1 judgings:3','b245da5bbc98f6a27fd02dc65318c175a425069351e221e69df5c574c042af77',NULL);
INSERT INTO "ledger" VALUES(37,'signals:18 signals:19 verdicts:29 verdicts:30 verdicts:31 verdicts:32 verdicts:33','36a51d68b2c8dba0ad3217056c2b67ddabfb93ebcb9466bf639f308e0cea78e5',NULL);
INSERT INTO "ledger" VALUES(38,'events:2 judgings:4','85ccc8733ce3a7dd8bdf26afa9d45e0c02c037aae42273739fb5a933c352d008',NULL);
INSERT INTO "ledger" VALUES(39,'verdicts:34 verdicts:35','8a89dac4ad80aeaace71362eb928aaeb51110742f13de66b666f3cd7b749c678',NULL);
INSERT INTO "ledger" VALUES(40,'events:3 judgings:5','5a397964beba3758398d1303eb6866a6c6e813ab4be34e334f0876637837c045',NULL);
INSERT INTO "ledger" VALUES(41,'verdicts:36','170fb09bac6c04a35d1adc6f62f0d00edef2ae5289dc7d4731904e47501d3b98',NULL);
INSERT INTO "ledger" VALUES(42,'removals:1 judgings:6','5057f91d73e41df461193ee7a26c98ae905f4f157046fc5ecdd9e77345fbbe4d',NULL);
INSERT INTO "ledger" VALUES(43,'verdicts:37','87daab6a133846d430f0de088d12f82be8a59f151c8a58da0ad88cf3b9db1ad8',NULL);
INSERT INTO "ledger" VALUES(44,'makings:1 judgings:7','a7c08bf9b6861b92b908311968b080c6d76c55cf6e5c08143ca5d9aebd678ec1',NULL);
INSERT INTO "ledger" VALUES(45,'verdicts:38 verdicts:39 verdicts:40 verdicts:41 verdicts:42 verdicts:43 verdicts:44 verdicts:45 baselines:4 baselines:5 baselines:6 verdicts:46','fb4660d9c9e0d24d1e1d9bce218f2ff4c61c246f9aaa4ed41c88f191ee748185',NULL);
INSERT INTO "ledger" VALUES(46,'verdicts:47 verdicts:48 verdicts:49 signals:20 verdicts:50 signals:21 signals:22 verdicts:51 signals:23 signals:24 verdicts:52 signals:25 signals:26 verdicts:53 signals:27 signals:28 verdicts:54 signals:29 signals:30 verdicts:55 signals:31 signals:32 verdicts:56','83b16d0d2f3ebb20d46dd858b8e0ac91e2d6774441dac1a27bb6d799ec9a17d1',NULL);
INSERT INTO "ledger" VALUES(47,'signals:33 signals:34 verdicts:57 verdicts:58 verdicts:59 verdicts:60 verdicts:61','458e9b00e9abf0d1646514650a6398dfd2203db6f59916116d23e32415df30f2',NULL);
INSERT INTO "ledger" VALUES(48,'baths:1','b8b21917d0f553f0a20c2e8195e12c3231368573e46ba9d35c10cc903344f8db',NULL);
INSERT INTO "ledger" VALUES(49,'soaks:1 soaks:2','d5eea67d1647c5790e634ce60600f98545113bf1bbfbfd0cbb3fa7b262f1dc99',NULL);
INSERT INTO "ledger" VALUES(50,'inspections:1','71d472f5bdfb71893663ef9d61f08f5ab5717cd5ecad44c2a5b3ae0a7dd209e1',NULL);
INSERT INTO "ledger" VALUES(51,'inspections:2','e02ad451b4cde974567cbcf88369f7fba147bcd914a1a425cb8fb1aaf4449875',NULL);
INSERT INTO "ledger" VALUES(52,'dispositions:1','9ba5895367f6c2ae2bb26aa4083a5da64364edb19d30287cef168d3181ecf75e',NULL);
INSERT INTO "ledger" VALUES(53,'dispositions:2','69529c4124e6cdd9d2d23f38220de92fffbb369a330abd1f8500d3cce7e86aae',NULL);
INSERT INTO "ledger" VALUES(54,'corrections:1 judgings:8','212fffe857c5b44492e4260a0df5eb30b3688e1598fa3c055a1621de32ef9734',NULL);
INSERT INTO "ledger" VALUES(55,'verdicts:62 verdicts:63','7b479959b7d3f081bfbb39c18bcc9c0579b53d883e9afe57599df7a46bed9575',NULL);
CREATE TABLE links (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	state TEXT NOT NULL, 
	detail TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "links" VALUES(1,1,'lost','no answer','2026-01-05T06:27:00.000000Z');
CREATE TABLE makings (
	id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	design TEXT, 
	print_batch TEXT, 
	resin TEXT, 
	plate TEXT, 
	plate_position TEXT, 
	orientation TEXT, 
	wash TEXT, 
	post_cure TEXT, 
	cured TEXT, 
	storage TEXT, 
	remark TEXT, 
	layer_um DOUBLE, 
	mass_g DOUBLE, 
	cost DOUBLE, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id)
);
INSERT INTO "makings" VALUES(1,1,'cap-r2','PL-1',NULL,NULL,NULL,NULL,NULL,'60 min at 80 degC',NULL,NULL,NULL,NULL,NULL,NULL,'','2026-11-28T16:15:20.686468Z');
CREATE TABLE matches (
	id INTEGER NOT NULL, 
	weighing_id INTEGER NOT NULL, 
	shot BIGINT, 
	basis TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, others TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(weighing_id) REFERENCES weighings (id)
);
CREATE TABLE mountings (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	half TEXT NOT NULL, 
	at_shot BIGINT NOT NULL, 
	single_use BOOLEAN NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "mountings" VALUES(1,1,1,'moving',1,0,'2026-11-28T16:13:59.501776Z');
INSERT INTO "mountings" VALUES(2,1,2,'fixed',1,0,'2026-11-28T16:13:59.575409Z');
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-28T16:14:30.310896Z');
CREATE TABLE presence (
	id INTEGER NOT NULL, 
	role TEXT NOT NULL, 
	detail TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (role)
);
CREATE TABLE presses (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "presses" VALUES(1,'P25','2026-11-28T16:13:59.501776Z');
CREATE TABLE queued (
	id INTEGER NOT NULL, 
	series_id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(series_id) REFERENCES inserts (id)
);
CREATE TABLE removals (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	at_shot BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "removals" VALUES(1,1,2,26,'gate worn','2026-11-28T16:15:19.948250Z');
CREATE TABLE shots (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	counter BIGINT NOT NULL, 
	time TEXT NOT NULL, 
	trial_id INTEGER, 
	cushion DOUBLE, 
	peak_pressure DOUBLE, 
	fill_time DOUBLE, 
	switchover_pressure DOUBLE, 
	switchover_position DOUBLE, 
	recovery_time DOUBLE, 
	cycle_time DOUBLE, 
	back_pressure DOUBLE, 
	melt_temperature DOUBLE, 
	insert_temperature DOUBLE, 
	clamp_force DOUBLE, 
	part_weight DOUBLE, 
	mass_balance DOUBLE, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id), 
	FOREIGN KEY(trial_id) REFERENCES trials (id), 
	UNIQUE (press_id, shot)
);
INSERT INTO "shots" VALUES(1,1,1,1,'2026-01-05T06:01:00.000000Z',1,5.0,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(2,1,2,2,'2026-01-05T06:02:00.000000Z',1,5.02,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(3,1,3,3,'2026-01-05T06:03:00.000000Z',1,4.99,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(4,1,4,4,'2026-01-05T06:04:00.000000Z',1,5.01,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(5,1,5,5,'2026-01-05T06:05:00.000000Z',1,4.98,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(6,1,6,6,'2026-01-05T06:06:00.000000Z',1,5.0,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(7,1,7,7,'2026-01-05T06:07:00.000000Z',1,5.02,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(8,1,8,8,'2026-01-05T06:08:00.000000Z',1,4.99,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(9,1,9,9,'2026-01-05T06:09:00.000000Z',1,5.01,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(10,1,10,10,'2026-01-05T06:10:00.000000Z',1,4.98,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(11,1,13,13,'2026-01-05T06:13:00.000000Z',1,4.99,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(12,1,14,14,'2026-01-05T06:14:00.000000Z',1,4.95,519.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(13,1,15,15,'2026-01-05T06:15:00.000000Z',1,4.86,516.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(14,1,16,16,'2026-01-05T06:16:00.000000Z',1,4.82,508.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(15,1,17,17,'2026-01-05T06:17:00.000000Z',1,4.77999999999999936051e+00,505.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(16,1,18,18,'2026-01-05T06:18:00.000000Z',1,4.69,503.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(17,1,19,19,'2026-01-05T06:19:00.000000Z',1,4.64999999999999946709e+00,500.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(18,1,20,20,'2026-01-05T06:20:00.000000Z',1,4.56000000000000049737e+00,492.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(19,1,21,21,'2026-01-05T06:21:00.000000Z',1,4.52,489.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(20,1,22,22,'2026-01-05T06:22:00.000000Z',1,4.47999999999999953814e+00,487.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(21,1,23,23,'2026-01-05T06:23:00.000000Z',1,4.99,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(22,1,24,24,'2026-01-05T06:24:00.000000Z',1,5.01,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(23,1,25,25,'2026-01-05T06:25:00.000000Z',1,4.98,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(24,1,26,26,'2026-01-05T06:26:00.000000Z',1,5.0,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE signals (
	id INTEGER NOT NULL, 
	judging_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	chart TEXT NOT NULL, 
	channel TEXT NOT NULL, 
	rule TEXT NOT NULL, 
	value DOUBLE, 
	centre DOUBLE, 
	lower DOUBLE, 
	upper DOUBLE, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "signals" VALUES(1,1,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(2,1,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(3,1,1,16,'individuals','peak_pressure','below',508.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(4,1,1,17,'individuals','cushion','below',4.77999999999999936051e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(5,1,1,17,'individuals','peak_pressure','below',505.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(6,1,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(7,1,1,18,'individuals','peak_pressure','below',503.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(8,1,1,19,'individuals','cushion','below',4.64999999999999946709e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(9,1,1,19,'individuals','peak_pressure','below',500.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(10,1,1,20,'individuals','cushion','below',4.56000000000000049737e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(11,1,1,20,'individuals','peak_pressure','below',492.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(12,1,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(13,1,1,21,'individuals','peak_pressure','below',489.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(14,1,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(15,1,1,22,'individuals','peak_pressure','below',487.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(16,1,1,23,'mr','cushion','above',5.10000000000000675015e-01,2.39999999999994870214e-02,0.0,1.84067803645713345961e-01);
INSERT INTO "signals" VALUES(17,1,1,23,'mr','peak_pressure','above',37.5,2.1,0.0,1.61059328190002624126e+01);
INSERT INTO "signals" VALUES(18,3,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(19,3,1,22,'individuals','peak_pressure','below',487.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(20,7,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(21,7,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(22,7,1,16,'individuals','peak_pressure','below',508.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(23,7,1,17,'individuals','cushion','below',4.77999999999999936051e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(24,7,1,17,'individuals','peak_pressure','below',505.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(25,7,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(26,7,1,18,'individuals','peak_pressure','below',503.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(27,7,1,19,'individuals','cushion','below',4.64999999999999946709e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(28,7,1,19,'individuals','peak_pressure','below',500.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(29,7,1,20,'individuals','cushion','below',4.56000000000000049737e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(30,7,1,20,'individuals','peak_pressure','below',492.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(31,7,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(32,7,1,21,'individuals','peak_pressure','below',489.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(33,7,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(34,7,1,22,'individuals','peak_pressure','below',487.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
CREATE TABLE soak_ends (
	id INTEGER NOT NULL, 
	soak_id INTEGER NOT NULL, 
	came_out TEXT NOT NULL, 
	cleared BOOLEAN NOT NULL, 
	remark TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(soak_id) REFERENCES soaks (id)
);
CREATE TABLE soaks (
	id INTEGER NOT NULL, 
	bath_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	cavity BIGINT NOT NULL, 
	went_in TEXT NOT NULL, 
	due TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(bath_id) REFERENCES baths (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-28T16:15:22.258008Z','2026-11-29T16:15:22.258008Z','','2026-11-28T16:15:22.258008Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-28T16:15:22.258008Z','2026-11-29T16:15:22.258008Z','','2026-11-28T16:15:22.258008Z');
CREATE TABLE trials (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	part TEXT NOT NULL, 
	resin TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "trials" VALUES(1,'cap trial 7','cap','PP','2026-01-05T06:00:00.000000Z');
CREATE TABLE verdicts (
	id INTEGER NOT NULL, 
	judging_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	"insert" TEXT NOT NULL, 
	shots_on_insert BIGINT NOT NULL, 
	settling BOOLEAN NOT NULL, 
	verdict TEXT NOT NULL, 
	sentence TEXT NOT NULL, 
	signals TEXT NOT NULL, 
	cause TEXT NOT NULL, 
	"group" TEXT NOT NULL, 
	weight DOUBLE, 
	onset BIGINT, 
	onset_low BIGINT, 
	onset_high BIGINT, 
	left_median DOUBLE, 
	left_low DOUBLE, 
	left_high DOUBLE, 
	statistic DOUBLE, 
	threshold DOUBLE, facts TEXT, others TEXT, limits TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id), 
	UNIQUE (press_id, shot, judging_id)
);
INSERT INTO "verdicts" VALUES(1,1,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(2,1,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(3,1,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(4,1,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it; what could be seen by now: a step of 0.77 mm in cushion, 107 bar in peak pressure or 0.187 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.7663062305939221},{"channel":"peak_pressure","size":107.28599837519641},{"channel":"fill_time","size":0.18672356096508352}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(5,1,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it; what could be seen by now: a step of 0.44 mm in cushion, 54 bar in peak pressure or 0.108 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.4404988990898025},{"channel":"peak_pressure","size":53.80899480184642},{"channel":"fill_time","size":0.10765888920636695}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(6,1,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it; what could be seen by now: a step of 0.29 mm in cushion, 39 bar in peak pressure or 0.074 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.29363980731957384},{"channel":"peak_pressure","size":38.97813432555551},{"channel":"fill_time","size":0.07449375393625142}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(7,1,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it; what could be seen by now: a step of 0.28 mm in cushion, 32 bar in peak pressure or 0.055 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.2751745357753193},{"channel":"peak_pressure","size":31.690455659861353},{"channel":"fill_time","size":0.05515131019594866}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(8,1,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it; what could be seen by now: a step of 0.21 mm in cushion, 28 bar in peak pressure or 0.043 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.20957951481726958},{"channel":"peak_pressure","size":28.263671565851123},{"channel":"fill_time","size":0.04254420682468111}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(9,1,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it; what could be seen by now: a step of 0.16 mm in cushion, 23 bar in peak pressure or 0.034 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.1606225482636974},{"channel":"peak_pressure","size":22.60500940893198},{"channel":"fill_time","size":0.03429576450143987}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(10,1,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it; what could be seen by now: a step of 0.15 mm in cushion, 19 bar in peak pressure or 0.029 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.14832787666843145},{"channel":"peak_pressure","size":19.47032793637496},{"channel":"fill_time","size":0.029060742458619865}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(11,1,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it; what could be seen by now: a step of 0.14 mm in cushion, 18 bar in peak pressure or 0.026 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.1428508995088453},{"channel":"peak_pressure","size":17.50921641187238},{"channel":"fill_time","size":0.02583866420603609}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(12,1,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11 in the moving half; what could be seen by now: a step of 0.15 mm in cushion, 16 bar in peak pressure or 0.024 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.6886199806350790098e+00,2.0,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"visible":[{"channel":"cushion","size":0.15277123077917004},{"channel":"peak_pressure","size":16.2424670737031},{"channel":"fill_time","size":0.02363147937910102}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(13,1,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11 in the moving half; shot 15 was odd, look at that part and watch the next shot; what could be seen by now: a step of 0.15 mm in cushion, 16 bar in peak pressure or 0.024 s in fill time','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.6886199806350790098e+00,2.0,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15,"visible":[{"channel":"cushion","size":0.15277123077917004},{"channel":"peak_pressure","size":16.2424670737031},{"channel":"fill_time","size":0.02363147937910102}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(14,1,1,16,'B-11',16,0,'swap','cushion down 0.14 mm and peak pressure down 5.1 bar since shot 15 (13 to 15): most likely the insert (0.81), crack or breakage; which half cannot be told: B-11 or A-07; no good shot left; 67% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.09396891288593156588e-01,15,13,15,0.0,0.0,0.0,5.38010688201749,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.13510724446952338,"least":0.01954984460452181},{"channel":"peak_pressure","size":-5.077900350582074,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.46129426124991624,"half":"moving","halves_alike":"A-07","bad_chance":0.6695396383690081}',NULL,NULL);
INSERT INTO "verdicts" VALUES(15,1,1,17,'B-11',17,0,'swap','cushion down 0.16 mm and peak pressure down 5.8 bar since shot 15 (13 to 15): most likely the insert (0.81), crack or breakage; which half cannot be told: B-11 or A-07; no good shot left; 73% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.09396891288593156588e-01,15,13,15,0.0,0.0,0.0,5.38010688201749,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.15625666440034408,"least":0.01954984460452181},{"channel":"peak_pressure","size":-5.824300396792075,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.46129426124991624,"half":"moving","halves_alike":"A-07","bad_chance":0.7266437626085702}',NULL,NULL);
INSERT INTO "verdicts" VALUES(16,1,1,18,'B-11',18,0,'swap','cushion down 0.24 mm and peak pressure down 10 bar since shot 14 (13 to 18): most likely the insert (0.82), cannot be told apart: parting-line wear or softening or creep; which half cannot be told: B-11 or A-07; about 1 shot left (1 to 2); 80% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',0.81901197063622,14,13,18,1.0,1.0,2.0,1.20879432848243411062e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2434732651112267,"least":0.01954984460452181},{"channel":"peak_pressure","size":-10.380599568818809,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.3452088381500327,"rival":"softening or creep","rival_weight":0.31570122656139216,"half":"moving","halves_alike":"A-07","bad_chance":0.7981948305534807}',NULL,NULL);
INSERT INTO "verdicts" VALUES(17,1,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 12 bar since shot 14 (13 to 19): most likely the insert (0.82), cannot be told apart: parting-line wear or softening or creep; which half cannot be told: B-11 or A-07; no good shot left; 80% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',0.81901197063622,14,13,19,0.0,0.0,0.0,1.20879432848243411062e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.28677224153392833,"least":0.01954984460452181},{"channel":"peak_pressure","size":-12.19184812239756,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.3452088381500327,"rival":"softening or creep","rival_weight":0.31570122656139216,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.8038208545344521}',NULL,NULL);
INSERT INTO "verdicts" VALUES(18,1,1,20,'B-11',20,0,'swap','cushion down 0.39 mm and peak pressure down 18 bar since shot 14 (5 to 20): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; which half cannot be told: B-11 or A-07; no good shot left; 83% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.25096505836437232872e-01,14,5,20,0.0,0.0,0.0,1.799720160662813484e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.39324490863759043,"least":0.01954984460452181},{"channel":"peak_pressure","size":-17.609880852146844,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.48009418717035424,"rival":"softening or creep","rival_weight":0.31383650252180356,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.82509649323502}',NULL,NULL);
INSERT INTO "verdicts" VALUES(19,1,1,21,'B-11',21,0,'swap','cushion down 0.45 mm and peak pressure down 20 bar since shot 14 (5 to 21): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; which half cannot be told: B-11 or A-07; no good shot left; 83% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.25096505836437232872e-01,14,5,21,0.0,0.0,0.0,1.799720160662813484e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.4475684943420201,"least":0.01954984460452181},{"channel":"peak_pressure","size":-20.05045577240789,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.48009418717035424,"rival":"softening or creep","rival_weight":0.31383650252180356,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.82509649323502}',NULL,NULL);
INSERT INTO "verdicts" VALUES(20,1,1,22,'B-11',22,0,'swap','cushion down 0.53 mm and peak pressure down 25 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear; which half cannot be told: B-11 or A-07; no good shot left; 84% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.43724782214738788788e-01,13,4,15,0.0,0.0,0.0,2.18633689220518974134e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5290610626085093,"least":0.01954984460452181},{"channel":"peak_pressure","size":-24.51716272230552,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5856572565986249,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.8437247819449266}',NULL,NULL);
INSERT INTO "verdicts" VALUES(21,1,1,23,'B-11',23,0,'swap','cushion down 0.58 mm and peak pressure down 27 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear; which half cannot be told: B-11 or A-07; no good shot left; 84% that the next part is bad; look for flash on both halves, then read the clamp force','mr:cushion:above;mr:peak_pressure:above','parting-line wear','insert',8.43724782214738788788e-01,13,4,15,0.0,0.0,0.0,2.18633689220518974134e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5847629610008609,"least":0.01954984460452181},{"channel":"peak_pressure","size":-27.109930159519998,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5856572565986249,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.8437247819449266}',NULL,NULL);
INSERT INTO "verdicts" VALUES(22,1,1,24,'B-11',24,0,'keep','no change seen in these values since shot 23; shot 24 on B-11 in the moving half; what could be seen by now: a step of 0.20 mm in cushion, 17 bar in peak pressure or 0.023 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-3.27884104717089197578e+00,2.0,'{"stage":"quiet","quiet_since":23,"n_sisters":0,"visible":[{"channel":"cushion","size":0.2039140225940938},{"channel":"peak_pressure","size":17.111940117247993},{"channel":"fill_time","size":0.023020572660689326}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(23,1,1,25,'B-11',25,0,'keep','no change seen in these values since shot 23; shot 25 on B-11 in the moving half; what could be seen by now: a step of 0.20 mm in cushion, 17 bar in peak pressure or 0.023 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-2.72159532467689402324e+00,2.0,'{"stage":"quiet","quiet_since":23,"n_sisters":0,"visible":[{"channel":"cushion","size":0.2039140225940938},{"channel":"peak_pressure","size":17.111940117247993},{"channel":"fill_time","size":0.023020572660689326}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-11',26,0,'swap','limit passed: level of the cushion 4.39 mm is below 4.40 mm; no change seen in these values since shot 23; shot 26 on B-11 in the moving half; what could be seen by now: a step of 0.20 mm in cushion, 17 bar in peak pressure or 0.023 s in fill time; look at the last part','','','',NULL,NULL,NULL,NULL,0.0,0.0,0.0,-2.72159532467689402324e+00,2.0,'{"stage":"quiet","quiet_since":23,"n_sisters":0,"limits":[{"channel":"cushion","limit":4.4,"derived":false,"value":4.38759204812024,"running":0,"level":true}],"visible":[{"channel":"cushion","size":0.2039140225940938},{"channel":"peak_pressure","size":17.111940117247993},{"channel":"fill_time","size":0.023020572660689326}],"half":"moving"}',NULL,'cushion');
INSERT INTO "verdicts" VALUES(25,2,1,23,'A-07',23,1,'watch','cushion down 0.58 mm and peak pressure down 27 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.41666347968061279161e-01,13,4,15,0.0,0.0,0.0,2.17020814775297665732e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5785804000780382,"least":0.01954984460452181},{"channel":"peak_pressure","size":-26.606743020973955,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5787095994413495,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(26,2,1,24,'A-07',24,1,'watch','cushion down 0.61 mm and peak pressure down 28 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.35320681065267245379e-01,13,4,15,0.0,0.0,0.0,2.14332889941788700132e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6142471052151202,"least":0.01954984460452181},{"channel":"peak_pressure","size":-27.973547189347432,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5492116810571972,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(27,2,1,25,'A-07',25,1,'watch','cushion down 0.65 mm and peak pressure down 29 bar since shot 13 (4 to 15): most likely the insert (0.83), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.28206625246476257906e-01,13,4,15,0.0,0.0,0.0,2.12075853746309377361e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6548310807886943,"least":0.01954984460452181},{"channel":"peak_pressure","size":-29.00082445924887,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5222182437951144,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(28,2,1,26,'A-07',26,1,'watch','cushion down 0.67 mm and peak pressure down 29 bar since shot 13 (4 to 26): most likely the insert (0.82), cannot be told apart: parting-line wear or softening or creep in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.15903246177396068716e-01,13,4,26,0.0,0.0,0.0,2.08380237816440114792e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6703471614012763,"least":0.01954984460452181},{"channel":"peak_pressure","size":-29.296596640111645,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.4661797471610108,"rival":"softening or creep","rival_weight":0.3237271813017542,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(29,3,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.53 mm and peak pressure down 25 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear; which half cannot be told: B-11 or A-07; no good shot left; 84% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.43724782214738788788e-01,13,4,15,0.0,0.0,0.0,2.18633689220518974134e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5290610626085093,"least":0.01954984460452181},{"channel":"peak_pressure","size":-24.51716272230552,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5856572565986249,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.8437247819449266,"found":{"shot":22,"text":"flash"}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(30,3,1,23,'A-07',23,1,'watch','cushion down 0.58 mm and peak pressure down 27 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.41666347968061279161e-01,13,4,15,0.0,0.0,0.0,2.17020814775297665732e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5785804000780382,"least":0.01954984460452181},{"channel":"peak_pressure","size":-26.606743020973955,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5787095994413495,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(31,3,1,24,'A-07',24,1,'watch','cushion down 0.61 mm and peak pressure down 28 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.35320681065267245379e-01,13,4,15,0.0,0.0,0.0,2.14332889941788700132e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6142471052151202,"least":0.01954984460452181},{"channel":"peak_pressure","size":-27.973547189347432,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5492116810571972,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(32,3,1,25,'A-07',25,1,'watch','cushion down 0.65 mm and peak pressure down 29 bar since shot 13 (4 to 15): most likely the insert (0.83), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.28206625246476257906e-01,13,4,15,0.0,0.0,0.0,2.12075853746309377361e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6548310807886943,"least":0.01954984460452181},{"channel":"peak_pressure","size":-29.00082445924887,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5222182437951144,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(33,3,1,26,'A-07',26,1,'watch','cushion down 0.67 mm and peak pressure down 29 bar since shot 13 (4 to 26): most likely the insert (0.82), cannot be told apart: parting-line wear or softening or creep in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.15903246177396068716e-01,13,4,26,0.0,0.0,0.0,2.08380237816440114792e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6703471614012763,"least":0.01954984460452181},{"channel":"peak_pressure","size":-29.296596640111645,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.4661797471610108,"rival":"softening or creep","rival_weight":0.3237271813017542,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(34,4,1,25,'A-07',25,1,'watch','cushion down 0.65 mm and peak pressure down 29 bar since shot 13 (4 to 15): most likely the insert (0.83), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.28206625246476257906e-01,13,4,15,0.0,0.0,0.0,2.12075853746309377361e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6548310807886943,"least":0.01954984460452181},{"channel":"peak_pressure","size":-29.00082445924887,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5222182437951144,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(35,4,1,26,'A-07',26,1,'watch','cushion down 0.67 mm and peak pressure down 29 bar since shot 13 (4 to 26): most likely the insert (0.82), cannot be told apart: parting-line wear or softening or creep in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.15903246177396068716e-01,13,4,26,0.0,0.0,0.0,2.08380237816440114792e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6703471614012763,"least":0.01954984460452181},{"channel":"peak_pressure","size":-29.296596640111645,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.4661797471610108,"rival":"softening or creep","rival_weight":0.3237271813017542,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(36,5,1,26,'A-07',26,1,'watch','cushion down 0.67 mm and peak pressure down 29 bar since shot 13 (4 to 26): most likely the insert (0.82), cannot be told apart: parting-line wear or softening or creep in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.15903246177396068716e-01,13,4,26,0.0,0.0,0.0,2.08380237816440114792e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6703471614012763,"least":0.01954984460452181},{"channel":"peak_pressure","size":-29.296596640111645,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.4661797471610108,"rival":"softening or creep","rival_weight":0.3237271813017542,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(37,6,1,26,'B-12',4,1,'keep','settling after a wait: no change is called; shot 4 on B-12; what could be seen by now: a step of 0.50 mm in cushion, 41 bar in peak pressure or 0.025 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,5.38056246289571160623e-01,1.25,'{"stage":"waited","visible":[{"channel":"cushion","size":0.5020750101171323},{"channel":"peak_pressure","size":40.79610055708934},{"channel":"fill_time","size":0.02525675621892666}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(38,7,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(39,7,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(40,7,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(41,7,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it; what could be seen by now: a step of 0.77 mm in cushion, 107 bar in peak pressure or 0.187 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.7663062305939221},{"channel":"peak_pressure","size":107.28599837519641},{"channel":"fill_time","size":0.18672356096508352}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(42,7,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it; what could be seen by now: a step of 0.44 mm in cushion, 54 bar in peak pressure or 0.108 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.4404988990898025},{"channel":"peak_pressure","size":53.80899480184642},{"channel":"fill_time","size":0.10765888920636695}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(43,7,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it; what could be seen by now: a step of 0.29 mm in cushion, 39 bar in peak pressure or 0.074 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.29363980731957384},{"channel":"peak_pressure","size":38.97813432555551},{"channel":"fill_time","size":0.07449375393625142}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(44,7,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it; what could be seen by now: a step of 0.28 mm in cushion, 32 bar in peak pressure or 0.055 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.2751745357753193},{"channel":"peak_pressure","size":31.690455659861353},{"channel":"fill_time","size":0.05515131019594866}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(45,7,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it; what could be seen by now: a step of 0.21 mm in cushion, 28 bar in peak pressure or 0.043 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.20957951481726958},{"channel":"peak_pressure","size":28.263671565851123},{"channel":"fill_time","size":0.04254420682468111}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(46,7,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it; what could be seen by now: a step of 0.16 mm in cushion, 23 bar in peak pressure or 0.034 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.1606225482636974},{"channel":"peak_pressure","size":22.60500940893198},{"channel":"fill_time","size":0.03429576450143987}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(47,7,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it; what could be seen by now: a step of 0.15 mm in cushion, 19 bar in peak pressure or 0.029 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.14832787666843145},{"channel":"peak_pressure","size":19.47032793637496},{"channel":"fill_time","size":0.029060742458619865}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(48,7,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it; what could be seen by now: a step of 0.14 mm in cushion, 18 bar in peak pressure or 0.026 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.1428508995088453},{"channel":"peak_pressure","size":17.50921641187238},{"channel":"fill_time","size":0.02583866420603609}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(49,7,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11 in the moving half; what could be seen by now: a step of 0.15 mm in cushion, 16 bar in peak pressure or 0.024 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.6886199806350790098e+00,2.0,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"visible":[{"channel":"cushion","size":0.15277123077917004},{"channel":"peak_pressure","size":16.2424670737031},{"channel":"fill_time","size":0.02363147937910102}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(50,7,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11 in the moving half; shot 15 was odd, look at that part and watch the next shot; what could be seen by now: a step of 0.15 mm in cushion, 16 bar in peak pressure or 0.024 s in fill time','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.6886199806350790098e+00,2.0,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15,"visible":[{"channel":"cushion","size":0.15277123077917004},{"channel":"peak_pressure","size":16.2424670737031},{"channel":"fill_time","size":0.02363147937910102}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(51,7,1,16,'B-11',16,0,'swap','cushion down 0.14 mm and peak pressure down 5.1 bar since shot 15 (13 to 15): most likely the insert (0.81), crack or breakage; which half cannot be told: B-11 or A-07; no good shot left; 67% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.09396891288593156588e-01,15,13,15,0.0,0.0,0.0,5.38010688201749,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.13510724446952338,"least":0.01954984460452181},{"channel":"peak_pressure","size":-5.077900350582074,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.46129426124991624,"half":"moving","halves_alike":"A-07","bad_chance":0.6695396383690081}',NULL,NULL);
INSERT INTO "verdicts" VALUES(52,7,1,17,'B-11',17,0,'swap','cushion down 0.16 mm and peak pressure down 5.8 bar since shot 15 (13 to 15): most likely the insert (0.81), crack or breakage; which half cannot be told: B-11 or A-07; no good shot left; 73% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.09396891288593156588e-01,15,13,15,0.0,0.0,0.0,5.38010688201749,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.15625666440034408,"least":0.01954984460452181},{"channel":"peak_pressure","size":-5.824300396792075,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.46129426124991624,"half":"moving","halves_alike":"A-07","bad_chance":0.7266437626085702}',NULL,NULL);
INSERT INTO "verdicts" VALUES(53,7,1,18,'B-11',18,0,'swap','cushion down 0.24 mm and peak pressure down 10 bar since shot 14 (13 to 18): most likely the insert (0.82), cannot be told apart: parting-line wear or softening or creep; which half cannot be told: B-11 or A-07; about 1 shot left (1 to 2); 80% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',0.81901197063622,14,13,18,1.0,1.0,2.0,1.20879432848243411062e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2434732651112267,"least":0.01954984460452181},{"channel":"peak_pressure","size":-10.380599568818809,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.3452088381500327,"rival":"softening or creep","rival_weight":0.31570122656139216,"half":"moving","halves_alike":"A-07","bad_chance":0.7981948305534807}',NULL,NULL);
INSERT INTO "verdicts" VALUES(54,7,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 12 bar since shot 14 (13 to 19): most likely the insert (0.82), cannot be told apart: parting-line wear or softening or creep; which half cannot be told: B-11 or A-07; no good shot left; 80% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',0.81901197063622,14,13,19,0.0,0.0,0.0,1.20879432848243411062e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.28677224153392833,"least":0.01954984460452181},{"channel":"peak_pressure","size":-12.19184812239756,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.3452088381500327,"rival":"softening or creep","rival_weight":0.31570122656139216,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.8038208545344521}',NULL,NULL);
INSERT INTO "verdicts" VALUES(55,7,1,20,'B-11',20,0,'swap','cushion down 0.39 mm and peak pressure down 18 bar since shot 14 (5 to 20): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; which half cannot be told: B-11 or A-07; no good shot left; 83% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.25096505836437232872e-01,14,5,20,0.0,0.0,0.0,1.799720160662813484e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.39324490863759043,"least":0.01954984460452181},{"channel":"peak_pressure","size":-17.609880852146844,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.48009418717035424,"rival":"softening or creep","rival_weight":0.31383650252180356,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.82509649323502}',NULL,NULL);
INSERT INTO "verdicts" VALUES(56,7,1,21,'B-11',21,0,'swap','cushion down 0.45 mm and peak pressure down 20 bar since shot 14 (5 to 21): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; which half cannot be told: B-11 or A-07; no good shot left; 83% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.25096505836437232872e-01,14,5,21,0.0,0.0,0.0,1.799720160662813484e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.4475684943420201,"least":0.01954984460452181},{"channel":"peak_pressure","size":-20.05045577240789,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.48009418717035424,"rival":"softening or creep","rival_weight":0.31383650252180356,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.82509649323502}',NULL,NULL);
INSERT INTO "verdicts" VALUES(57,7,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.53 mm and peak pressure down 25 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear; which half cannot be told: B-11 or A-07; no good shot left; 84% that the next part is bad; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.43724782214738788788e-01,13,4,15,0.0,0.0,0.0,2.18633689220518974134e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5290610626085093,"least":0.01954984460452181},{"channel":"peak_pressure","size":-24.51716272230552,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5856572565986249,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"moving","halves_alike":"A-07","bad_chance":0.8437247819449266,"found":{"shot":22,"text":"flash"}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(58,7,1,23,'A-07',23,1,'watch','cushion down 0.58 mm and peak pressure down 27 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.41666347968061279161e-01,13,4,15,0.0,0.0,0.0,2.17020814775297665732e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5785804000780382,"least":0.01954984460452181},{"channel":"peak_pressure","size":-26.606743020973955,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5787095994413495,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(59,7,1,24,'A-07',24,1,'watch','cushion down 0.61 mm and peak pressure down 28 bar since shot 13 (4 to 15): most likely the insert (0.84), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.35320681065267245379e-01,13,4,15,0.0,0.0,0.0,2.14332889941788700132e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6142471052151202,"least":0.01954984460452181},{"channel":"peak_pressure","size":-27.973547189347432,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5492116810571972,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(60,7,1,25,'A-07',25,1,'watch','cushion down 0.65 mm and peak pressure down 29 bar since shot 13 (4 to 15): most likely the insert (0.83), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.28206625246476257906e-01,13,4,15,0.0,0.0,0.0,2.12075853746309377361e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6548310807886943,"least":0.01954984460452181},{"channel":"peak_pressure","size":-29.00082445924887,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5222182437951144,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(61,7,1,26,'B-12',4,1,'keep','settling after a wait: no change is called; shot 4 on B-12; what could be seen by now: a step of 0.50 mm in cushion, 41 bar in peak pressure or 0.025 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,5.38056246289571160623e-01,1.25,'{"stage":"waited","visible":[{"channel":"cushion","size":0.5020750101171323},{"channel":"peak_pressure","size":40.79610055708934},{"channel":"fill_time","size":0.02525675621892666}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(62,8,1,25,'A-07',25,1,'watch','cushion down 0.65 mm and peak pressure down 29 bar since shot 13 (4 to 15): most likely the insert (0.83), parting-line wear in the fixed half; no good shot left; look for flash on both halves, then read the clamp force','','parting-line wear','insert',8.28206625246476257906e-01,13,4,15,0.0,0.0,0.0,2.12075853746309377361e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6548310807886943,"least":0.01954984460452181},{"channel":"peak_pressure","size":-29.00082445924887,"least":2.0021026109226887},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5222182437951144,"passed":{"channel":"cushion","limit":4.4,"derived":false,"value":null,"running":0,"level":false},"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(63,8,1,26,'B-12',4,1,'keep','settling after a wait: no change is called; shot 4 on B-12; what could be seen by now: a step of 0.50 mm in cushion, 41 bar in peak pressure or 0.025 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,4.2624617562228966916e-01,1.25,'{"stage":"waited","visible":[{"channel":"cushion","size":0.5020750101171323},{"channel":"peak_pressure","size":40.79610055708934},{"channel":"fill_time","size":0.02525675621892666}]}',NULL,NULL);
CREATE TABLE weighings (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	balance TEXT NOT NULL, 
	grams DOUBLE NOT NULL, 
	g_per_mm DOUBLE, 
	dose_mm DOUBLE, 
	after_s DOUBLE, 
	raw BLOB NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "weighings" VALUES(1,1,'bench',12.34,NULL,NULL,40.0,X'31322E3334','2026-01-05T06:27:20.000000Z');
CREATE INDEX events_by_press ON events (press_id, at_shot);
CREATE INDEX faults_by_press ON faults (press_id, id);
CREATE INDEX gaps_by_press ON gaps (press_id, first);
CREATE INDEX judgings_by_press ON judgings (press_id, id);
CREATE INDEX links_by_press ON links (press_id, id);
CREATE INDEX baselines_by_press ON baselines (press_id, last);
CREATE INDEX checkpoints_by_press ON checkpoints (press_id, shot);
CREATE INDEX mountings_by_press ON mountings (press_id, at_shot);
CREATE INDEX removals_by_press ON removals (press_id, at_shot);
CREATE INDEX signals_by_press ON signals (press_id, shot);
CREATE INDEX baths_by_name ON baths (name, id);
CREATE INDEX bath_checks_by_bath ON bath_checks (bath_id, id);
CREATE INDEX dispositions_by_press ON dispositions (press_id, id);
CREATE INDEX inspections_by_part ON inspections (press_id, shot);
CREATE INDEX soaks_by_part ON soaks (press_id, shot);
CREATE INDEX weighings_by_press ON weighings (press_id, id);
CREATE INDEX dimensions_by_insert ON dimensions (insert_id, id);
CREATE INDEX makings_by_insert ON makings (insert_id, id);
CREATE INDEX matches_by_shot ON matches (shot);
CREATE INDEX matches_by_weighing ON matches (weighing_id, id);
CREATE INDEX soak_ends_by_soak ON soak_ends (soak_id, id);
CREATE INDEX queued_by_series ON queued (series_id, id);
CREATE INDEX shots_by_trial ON shots (trial_id, press_id, shot);
CREATE INDEX verdicts_called ON verdicts (press_id, shot, onset_low, onset) WHERE verdict != 'keep';
COMMIT;
