-- schema 0005: 52 transactions, last digest d894c055427ac07a17f2bfe6903c30b19fe7cc147b2c8d6a7e2a5c47e20873a5
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0005');
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
INSERT INTO "baselines" VALUES(4,6,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "baselines" VALUES(5,6,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "baselines" VALUES(6,6,1,'B-11','fill_time',4,9,6,0.41,0.0,4.01999999999999968469e-01,0.418);
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
INSERT INTO "baths" VALUES(1,'north',NULL,NULL,NULL,NULL,'2026-11-28T16:13:48.594446Z','','2026-11-28T16:13:48.594446Z');
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
INSERT INTO "corrections" VALUES(1,'events',2,'mistyped','2026-11-28T16:13:52.839157Z');
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-28T16:13:10.669313Z');
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
INSERT INTO "dispositions" VALUES(1,1,22,22,1,'scrapped','flash','','2026-11-28T16:13:52.276154Z');
INSERT INTO "dispositions" VALUES(2,1,19,19,1,'released','looked at','','2026-11-28T16:13:52.561718Z');
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
INSERT INTO "events" VALUES(1,1,22,'finding','flash','2026-11-28T16:13:45.967468Z');
INSERT INTO "events" VALUES(2,1,25,'lot','L2','2026-11-28T16:13:46.031263Z');
INSERT INTO "events" VALUES(3,1,26,'lot','L3','2026-11-28T16:13:46.233170Z');
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
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-28T16:13:10.669313Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-28T16:13:11.054664Z');
INSERT INTO "inserts" VALUES(3,'B-12',1,'','2026-11-28T16:13:45.797436Z');
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
INSERT INTO "inspections" VALUES(1,1,4,1,'wall',1.21,1.1,1.3,'mm','1.21 mm','','','','2026-11-28T16:13:49.231216Z','','2026-11-28T16:13:49.231216Z');
INSERT INTO "inspections" VALUES(2,1,21,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-28T16:13:49.507094Z','','2026-11-28T16:13:49.507094Z');
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
INSERT INTO "judgings" VALUES(1,1,0,'5c8fbe95dcfdb0c9','first judging','2026-01-05T06:00:00.000000Z');
INSERT INTO "judgings" VALUES(2,1,23,'5c8fbe95dcfdb0c9','mounting of B-12 in moving at shot 23, entered after shot 26','2026-11-28T16:13:45.797436Z');
INSERT INTO "judgings" VALUES(3,1,25,'5c8fbe95dcfdb0c9','lot at shot 25, entered after shot 26','2026-11-28T16:13:46.031263Z');
INSERT INTO "judgings" VALUES(4,1,26,'5c8fbe95dcfdb0c9','lot at shot 26, entered after shot 26','2026-11-28T16:13:46.233170Z');
INSERT INTO "judgings" VALUES(5,1,26,'5c8fbe95dcfdb0c9','removal of A-07 at shot 26, entered after shot 26','2026-11-28T16:13:46.609079Z');
INSERT INTO "judgings" VALUES(6,1,1,'5c8fbe95dcfdb0c9','making of B-11 said otherwise, entered after shot 26','2026-11-28T16:13:47.257969Z');
INSERT INTO "judgings" VALUES(7,1,25,'5c8fbe95dcfdb0c9','entry taken back: mistyped, entered after shot 26','2026-11-28T16:13:52.839157Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'trials:1','a1f7c375cd890f4ec48ad914fdc0aab3ffffa38c831a6a0d20f6469a2b4f3fee',NULL);
INSERT INTO "ledger" VALUES(2,'presses:1 designs:1 inserts:1 mountings:1','0d7ab0e6c429b7cd0ced650bc36be46ca181ced43745bfec42660271ca78b462',NULL);
INSERT INTO "ledger" VALUES(3,'inserts:2 mountings:2','bd976bdafc112c236e1d62b678a71a4b674fbec9ce909e674a13606717f1703e',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1','47b1cfe730dcfd061052e16e1186ee74b5144da1c16cc3f8de4440fd64ffda10',NULL);
INSERT INTO "ledger" VALUES(5,'shots:2','ff80a2eb0deb802b76d9ec27471d56997ee4ddd614c2794783e0e3e8152be472',NULL);
INSERT INTO "ledger" VALUES(6,'shots:3','d23a1e92349dc5e84dc731ae554cfbecbf97578a4978af910c43c6aeba4c056e',NULL);
INSERT INTO "ledger" VALUES(7,'shots:4','59d3b5a1a74e79161cbd8e86aaed664d3d7cbd8a01f78bde32a89ae94bbc22d5',NULL);
INSERT INTO "ledger" VALUES(8,'shots:5','3e0d779dbea7f312339b72b93ca602aecfe4e2a6381c164cf578f68f16cca5e7',NULL);
INSERT INTO "ledger" VALUES(9,'shots:6','1500bd7e7ea37a8eb946a84bf466fae4ab78c5f2868bd98675dc1a7a3c37e2c0',NULL);
INSERT INTO "ledger" VALUES(10,'shots:7','bda5aca5f6830a7ebdd451b19fe3b007dd55cf4dd1527ecd93e7f561a00b052f',NULL);
INSERT INTO "ledger" VALUES(11,'faults:1','6e6abb1af2f783103ba6f3089060053ec87cb09ebd7f43b188ce3f1d0a3a118a',NULL);
INSERT INTO "ledger" VALUES(12,'shots:8','c05a31f539f229d02d723c98dd22ce947ca08151ee5057dc85475f41789cdad0',NULL);
INSERT INTO "ledger" VALUES(13,'shots:9','8035fe91db7b912082a149f33befc2283c372e7fc70272c786c924375c6a756e',NULL);
INSERT INTO "ledger" VALUES(14,'shots:10','cf53e4c17abb1eb343a45452e070971149f94296447edc5a30a8b23a469ce704',NULL);
INSERT INTO "ledger" VALUES(15,'gaps:1','ee499d4bd2634512e8b61ef023665a103ec3c9c00b526cf023a1bda26e2a805d',NULL);
INSERT INTO "ledger" VALUES(16,'shots:11','3d3558d36f4f361a64812d70341dc3ba5f2c732792ee69fc033bc5189b8f119b',NULL);
INSERT INTO "ledger" VALUES(17,'shots:12','e8a7dc268f0940fe3661096d5010381b670293caaded467425931f652f700ac7',NULL);
INSERT INTO "ledger" VALUES(18,'shots:13','7173a6757fc745a5c42f7a422f29ac1eef7f81f018661d6cabe1288d934d2905',NULL);
INSERT INTO "ledger" VALUES(19,'shots:14','ccd3e6f7e39d8456bece6782945978d3978f38669aa6e421c57de7b2dc06c61f',NULL);
INSERT INTO "ledger" VALUES(20,'shots:15','c46ac13048fd843c94216bc1943f1ded599a93816ca64a6f3ad9f94d3c4e82fe',NULL);
INSERT INTO "ledger" VALUES(21,'shots:16','e4c9126ae07f539eb36ef3cdcde69b0b4920f9e245502e72e215b9130b101bbc',NULL);
INSERT INTO "ledger" VALUES(22,'shots:17','3aa18faa43c70e89b79ecaee812b5298cbe6a1a0329ee177558aab7bf30a89b9',NULL);
INSERT INTO "ledger" VALUES(23,'shots:18','d7fc676d457827d57943ab5069b16c1304e039f00dd2fae973e97eead801aeb2',NULL);
INSERT INTO "ledger" VALUES(24,'shots:19','d50a4d12771f55f601b2f33ddda63be0427548f7eda46c6252735833d3f21c53',NULL);
INSERT INTO "ledger" VALUES(25,'shots:20','6be78c85b6b48d1aee60db758663f17619855181486418aaad7569e8d8968e1b',NULL);
INSERT INTO "ledger" VALUES(26,'shots:21','df39af47902adf43a2fccb9e69df4d824f31941e29ae3ecf6194052d8b2b117b',NULL);
INSERT INTO "ledger" VALUES(27,'shots:22','2d7de25c7cd10b7403729fecfa2e56b215acffb4a1dfcc914c7859101c2fcd11',NULL);
INSERT INTO "ledger" VALUES(28,'shots:23','ef9b66aea3c36ff8b3bd3444071e8392f2ec62c9ac475bf7c462962f98d88149',NULL);
INSERT INTO "ledger" VALUES(29,'shots:24','cedfb4ba178946a5d1d818c42d585dab8fc981c96a3cf7433c08f8859ed8f7c5',NULL);
INSERT INTO "ledger" VALUES(30,'links:1','8abee285cbc7ab252c0b2f52117c3adc87c9fccb02da66e1dcc2063350e70b08',NULL);
INSERT INTO "ledger" VALUES(31,'weighings:1','e39223e09ea0e33ceff04a8110004f9d2447f685267b26c133a43c75e9e4f163',NULL);
INSERT INTO "ledger" VALUES(32,'judgings:1 verdicts:1 verdicts:2 verdicts:3 verdicts:4 verdicts:5 verdicts:6 verdicts:7 verdicts:8 baselines:1 baselines:2 baselines:3 verdicts:9 verdicts:10 verdicts:11 verdicts:12 signals:1 verdicts:13 signals:2 signals:3 verdicts:14 signals:4 signals:5 verdicts:15 signals:6 signals:7 verdicts:16 signals:8 signals:9 verdicts:17 signals:10 signals:11 verdicts:18 signals:12 signals:13 verdicts:19 signals:14 signals:15 verdicts:20 signals:16 signals:17 verdicts:21 verdicts:22 verdicts:23 verdicts:24','aa60b25355b303a3cc49e7d680def2f5d84721dbf10ddec0fcdb04fbcc77b880',NULL);
INSERT INTO "ledger" VALUES(33,'inserts:3 mountings:3 judgings:2','4e2b6417d788a1287c0af5d45b4c6e1af78654e98d68d09d4a7770aff2669d71',NULL);
INSERT INTO "ledger" VALUES(34,'verdicts:25 verdicts:26 verdicts:27 verdicts:28','6493eafcf8fc71dec62a96d13d897426b1e2af476a66cbcdf97a25357a75e8fe',NULL);
INSERT INTO "ledger" VALUES(35,'events:1','a7ff24c3989b643aebb8ad50087617f576ed0f45464dc9f7b6c536affaa809dc',NULL);
INSERT INTO "ledger" VALUES(36,'events:2 judgings:3','3d1c1a3525629252044c83ac79fbdcdc39ac6c9cdac91049a38b89cfcb350f76',NULL);
INSERT INTO "ledger" VALUES(37,'verdicts:29 verdicts:30','048e07b65af09f2427e21d80ddcbb76be5c02272c14fa0ee2f929a59e7608afc',NULL);
INSERT INTO "ledger" VALUES(38,'events:3 judgings:4','80edd321dc7562ee14df69871749fcdd3a0bb17f574a0010ba819eea6cfaa269',NULL);
INSERT INTO "ledger" VALUES(39,'verdicts:31','4953878f6971e7deec5c8e26e5c8b111589533e4e3f6f1e3a2cbd9bbd966845f',NULL);
INSERT INTO "ledger" VALUES(40,'removals:1 judgings:5','503ff2af917608aeb6d2a105e3f5217b2615c8bd4e87d94e3d8ffd004b352233',NULL);
INSERT INTO "ledger" VALUES(41,'verdicts:32','fac4b97aaaefd81f871bb65a9b8d819c62ff5a366f29e2025083157707362d6e',NULL);
INSERT INTO "ledger" VALUES(42,'makings:1 judgings:6','7557d311cf3c1c9eb4deec85e89442663b35e452e95d2142dd6679013d085df9',NULL);
INSERT INTO "ledger" VALUES(43,'verdicts:33 verdicts:34 verdicts:35 verdicts:36 verdicts:37 verdicts:38 verdicts:39 verdicts:40 baselines:4 baselines:5 baselines:6 verdicts:41 verdicts:42 verdicts:43 verdicts:44 signals:18 verdicts:45 signals:19 signals:20 verdicts:46 signals:21 signals:22 verdicts:47 signals:23 signals:24 verdicts:48 signals:25 signals:26 verdicts:49 signals:27 signals:28 verdicts:50','50b39a8711923dc66523037b67b8b96826473640b7e29e4b950c3e58558279ff',NULL);
INSERT INTO "ledger" VALUES(44,'signals:29 signals:30 verdicts:51 signals:31 signals:32 verdicts:52 verdicts:53 verdicts:54 verdicts:55 verdicts:56','d58ee2b3fa0c9e06189a1b38b9d18308e34781f3f0b411972436b80e0412336f',NULL);
INSERT INTO "ledger" VALUES(45,'baths:1','8abd93c31df743fcf4fc2f0580bd71910f484655e8013a8f9cf0ed0dafcb2107',NULL);
INSERT INTO "ledger" VALUES(46,'soaks:1 soaks:2','5ead605ad9840c85c60407cb69c79aa50e18c27a8e7432c614e2ce9c019b72ab',NULL);
INSERT INTO "ledger" VALUES(47,'inspections:1','e3d2c83a6ac4b8cff1efa230092bc9d86c182fe85566892b1d9f8bb9823cda11',NULL);
INSERT INTO "ledger" VALUES(48,'inspections:2','e150d3769ae13f4d026c2b027da3a99789633a22c148d3f9bfce60244956ee28',NULL);
INSERT INTO "ledger" VALUES(49,'dispositions:1','ff7ccc6d9fc3c535b5fb396367a4acb3264523b612cef2e1ba1af0e52b8ed628',NULL);
INSERT INTO "ledger" VALUES(50,'dispositions:2','120a5bfb79e8e3a5766e5d71a1a88e4763f717f0cc1dfdcc44393f97191c3c74',NULL);
INSERT INTO "ledger" VALUES(51,'corrections:1 judgings:7','3bbd276fa4d2b86b5676adedd472a1a6e0f802998967ffa9dd45070791c0a7ec',NULL);
INSERT INTO "ledger" VALUES(52,'verdicts:57 verdicts:58','d894c055427ac07a17f2bfe6903c30b19fe7cc147b2c8d6a7e2a5c47e20873a5',NULL);
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
INSERT INTO "makings" VALUES(1,1,'cap-r2','PL-1',NULL,NULL,NULL,NULL,NULL,'60 min at 80 degC',NULL,NULL,NULL,NULL,NULL,NULL,'','2026-11-28T16:13:47.257969Z');
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
INSERT INTO "mountings" VALUES(1,1,1,'moving',1,0,'2026-11-28T16:13:10.669313Z');
INSERT INTO "mountings" VALUES(2,1,2,'fixed',1,0,'2026-11-28T16:13:11.054664Z');
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-28T16:13:45.797436Z');
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
INSERT INTO "presses" VALUES(1,'P25','2026-11-28T16:13:10.669313Z');
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
INSERT INTO "removals" VALUES(1,1,2,26,'gate worn','2026-11-28T16:13:46.609079Z');
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
INSERT INTO "signals" VALUES(18,6,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(19,6,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(20,6,1,16,'individuals','peak_pressure','below',508.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(21,6,1,17,'individuals','cushion','below',4.77999999999999936051e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(22,6,1,17,'individuals','peak_pressure','below',505.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(23,6,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(24,6,1,18,'individuals','peak_pressure','below',503.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(25,6,1,19,'individuals','cushion','below',4.64999999999999946709e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(26,6,1,19,'individuals','peak_pressure','below',500.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(27,6,1,20,'individuals','cushion','below',4.56000000000000049737e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(28,6,1,20,'individuals','peak_pressure','below',492.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(29,6,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(30,6,1,21,'individuals','peak_pressure','below',489.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(31,6,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(32,6,1,22,'individuals','peak_pressure','below',487.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
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
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-28T16:13:48.890052Z','2026-11-29T16:13:48.890052Z','','2026-11-28T16:13:48.890052Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-28T16:13:48.890052Z','2026-11-29T16:13:48.890052Z','','2026-11-28T16:13:48.890052Z');
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
	threshold DOUBLE, facts TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id), 
	UNIQUE (press_id, shot, judging_id)
);
INSERT INTO "verdicts" VALUES(1,1,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4}');
INSERT INTO "verdicts" VALUES(2,1,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4}');
INSERT INTO "verdicts" VALUES(3,1,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4}');
INSERT INTO "verdicts" VALUES(4,1,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(5,1,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(6,1,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(7,1,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(8,1,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(9,1,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(10,1,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(11,1,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(12,1,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0,'{"stage":"quiet","quiet_since":4,"n_sisters":0}');
INSERT INTO "verdicts" VALUES(13,1,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11; shot 15 was odd, look at that part and watch the next shot; first insert of its design, so less sharp','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15}');
INSERT INTO "verdicts" VALUES(14,1,1,16,'B-11',16,0,'watch','cushion down 0.13 mm and peak pressure down 5.1 bar since shot 15 (13 to 16): most likely the insert (0.79), crack or breakage; about 12 shots left (9 to 17); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,16,12.0,9.0,17.0,5.49807360984171911155e+00,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.134311846792166,"least":0.01890275579468421},{"channel":"peak_pressure","size":-5.078962710417071,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.4440126827346613}');
INSERT INTO "verdicts" VALUES(15,1,1,17,'B-11',17,0,'watch','cushion down 0.16 mm and peak pressure down 5.8 bar since shot 15 (13 to 17): most likely the insert (0.79), crack or breakage; about 11 shots left (8 to 15); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,17,11.0,8.0,15.0,5.49807360984171911155e+00,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.1554458009452587,"least":0.01890275579468421},{"channel":"peak_pressure","size":-5.822959183873249,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.4440126827346613}');
INSERT INTO "verdicts" VALUES(16,1,1,18,'B-11',18,0,'swap','cushion down 0.25 mm and peak pressure down 9.1 bar since shot 14 (10 to 18): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; about 1 shot left (1 to 1); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,18,1.0,1.0,1.0,1.16636749341061509712e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.25009076215171394,"least":0.01890275579468421},{"channel":"peak_pressure","size":-9.084764177092572,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.1607609268369071,"rival":"parting-line wear","rival_weight":0.35007570520740655}');
INSERT INTO "verdicts" VALUES(17,1,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 11 bar since shot 14 (10 to 19): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; no good shot left; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,19,0.0,0.0,0.0,1.16636749341061509712e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.29295736315391435,"least":0.01890275579468421},{"channel":"peak_pressure","size":-10.584590309958445,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.1607609268369071,"rival":"parting-line wear","rival_weight":0.35007570520740655,"passed":{"channel":"cushion","limit":4.4,"derived":false}}');
INSERT INTO "verdicts" VALUES(18,1,1,20,'B-11',20,0,'swap','cushion down 0.42 mm and peak pressure down 14 bar since shot 14 (4 to 20): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,20,0.0,0.0,0.0,1.6953955855033665756e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.41814100698852863,"least":0.01890275579468421},{"channel":"peak_pressure","size":-14.499979599282312,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5062527897519283,"rival":"softening or creep","rival_weight":0.3073337255453457,"passed":{"channel":"cushion","limit":4.4,"derived":false}}');
INSERT INTO "verdicts" VALUES(19,1,1,21,'B-11',21,0,'swap','cushion down 0.47 mm and peak pressure down 16 bar since shot 14 (4 to 21): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,21,0.0,0.0,0.0,1.6953955855033665756e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.47384699757630655,"least":0.01890275579468421},{"channel":"peak_pressure","size":-16.425666937600326,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5062527897519283,"rival":"softening or creep","rival_weight":0.3073337255453457,"passed":{"channel":"cushion","limit":4.4,"derived":false}}');
INSERT INTO "verdicts" VALUES(20,1,1,22,'B-11',22,0,'swap','cushion down 0.57 mm and peak pressure down 19 bar since shot 13 (4 to 15): most likely the insert (0.85), parting-line wear; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.51297987570908132326e-01,13,4,15,0.0,0.0,0.0,2.0409617343851145677e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5688853790672955,"least":0.01890275579468421},{"channel":"peak_pressure","size":-19.27065379925212,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.6187850645531868,"passed":{"channel":"cushion","limit":4.4,"derived":false}}');
INSERT INTO "verdicts" VALUES(21,1,1,23,'B-11',23,0,'swap','cushion down 0.63 mm and peak pressure down 21 bar since shot 13 (4 to 15): most likely the insert (0.85), parting-line wear; no good shot left; look for flash on both halves, then read the clamp force','mr:cushion:above;mr:peak_pressure:above','parting-line wear','insert',8.51297987570908132326e-01,13,4,15,0.0,0.0,0.0,2.0409617343851145677e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.6273502958558823,"least":0.01890275579468421},{"channel":"peak_pressure","size":-21.243989628040616,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.6187850645531868,"passed":{"channel":"cushion","limit":4.4,"derived":false}}');
INSERT INTO "verdicts" VALUES(22,1,1,24,'B-11',24,0,'swap','cushion down 0.20 mm and peak pressure down 9.4 bar since shot 16 (15 to 24): most likely the insert (0.82), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',8.18600026966814220408e-01,16,15,24,NULL,256.0,NULL,1.49459544608261190039e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.20437987181586936,"least":0.01890275579468421},{"channel":"peak_pressure","size":-9.440361602359514,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.7561963078773644}');
INSERT INTO "verdicts" VALUES(23,1,1,25,'B-11',25,0,'swap','cushion down 0.20 mm and peak pressure down 9.5 bar since shot 16 (15 to 25): most likely the insert (0.82), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',8.18600026966814220408e-01,16,15,25,NULL,254.0,NULL,1.49459544608261190039e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2047602194269312,"least":0.01890275579468421},{"channel":"peak_pressure","size":-9.450736227717403,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.7561963078773644}');
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-11',26,0,'swap','cushion down 0.22 mm and peak pressure down 10 bar since shot 16 (15 to 26): most likely the insert (0.83), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',8.26529048984637415564e-01,16,15,26,NULL,NULL,NULL,1.65640082628838101186e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.22366675064573915,"least":0.01890275579468421},{"channel":"peak_pressure","size":-10.263190501288973,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.8138897982467372}');
INSERT INTO "verdicts" VALUES(25,2,1,23,'B-12',1,1,'keep','settling: shot 1 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":26}');
INSERT INTO "verdicts" VALUES(26,2,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":26}');
INSERT INTO "verdicts" VALUES(27,2,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":26}');
INSERT INTO "verdicts" VALUES(28,2,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(29,3,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":26}');
INSERT INTO "verdicts" VALUES(30,3,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(31,4,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(32,5,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(33,6,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4}');
INSERT INTO "verdicts" VALUES(34,6,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4}');
INSERT INTO "verdicts" VALUES(35,6,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4}');
INSERT INTO "verdicts" VALUES(36,6,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(37,6,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(38,6,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(39,6,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(40,6,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(41,6,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(42,6,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(43,6,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(44,6,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0,'{"stage":"quiet","quiet_since":4,"n_sisters":0}');
INSERT INTO "verdicts" VALUES(45,6,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11; shot 15 was odd, look at that part and watch the next shot; first insert of its design, so less sharp','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15}');
INSERT INTO "verdicts" VALUES(46,6,1,16,'B-11',16,0,'watch','cushion down 0.13 mm and peak pressure down 5.1 bar since shot 15 (13 to 16): most likely the insert (0.79), crack or breakage; about 12 shots left (9 to 17); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,16,12.0,9.0,17.0,5.49807360984171911155e+00,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.134311846792166,"least":0.01890275579468421},{"channel":"peak_pressure","size":-5.078962710417071,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.4440126827346613}');
INSERT INTO "verdicts" VALUES(47,6,1,17,'B-11',17,0,'watch','cushion down 0.16 mm and peak pressure down 5.8 bar since shot 15 (13 to 17): most likely the insert (0.79), crack or breakage; about 11 shots left (8 to 15); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,17,11.0,8.0,15.0,5.49807360984171911155e+00,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.1554458009452587,"least":0.01890275579468421},{"channel":"peak_pressure","size":-5.822959183873249,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.4440126827346613}');
INSERT INTO "verdicts" VALUES(48,6,1,18,'B-11',18,0,'swap','cushion down 0.25 mm and peak pressure down 9.1 bar since shot 14 (10 to 18): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; about 1 shot left (1 to 1); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,18,1.0,1.0,1.0,1.16636749341061509712e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.25009076215171394,"least":0.01890275579468421},{"channel":"peak_pressure","size":-9.084764177092572,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.1607609268369071,"rival":"parting-line wear","rival_weight":0.35007570520740655}');
INSERT INTO "verdicts" VALUES(49,6,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 11 bar since shot 14 (10 to 19): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; no good shot left; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,19,0.0,0.0,0.0,1.16636749341061509712e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.29295736315391435,"least":0.01890275579468421},{"channel":"peak_pressure","size":-10.584590309958445,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.1607609268369071,"rival":"parting-line wear","rival_weight":0.35007570520740655,"passed":{"channel":"cushion","limit":4.4,"derived":false}}');
INSERT INTO "verdicts" VALUES(50,6,1,20,'B-11',20,0,'swap','cushion down 0.42 mm and peak pressure down 14 bar since shot 14 (4 to 20): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,20,0.0,0.0,0.0,1.6953955855033665756e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.41814100698852863,"least":0.01890275579468421},{"channel":"peak_pressure","size":-14.499979599282312,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5062527897519283,"rival":"softening or creep","rival_weight":0.3073337255453457,"passed":{"channel":"cushion","limit":4.4,"derived":false}}');
INSERT INTO "verdicts" VALUES(51,6,1,21,'B-11',21,0,'swap','cushion down 0.47 mm and peak pressure down 16 bar since shot 14 (4 to 21): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,21,0.0,0.0,0.0,1.6953955855033665756e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.47384699757630655,"least":0.01890275579468421},{"channel":"peak_pressure","size":-16.425666937600326,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.5062527897519283,"rival":"softening or creep","rival_weight":0.3073337255453457,"passed":{"channel":"cushion","limit":4.4,"derived":false}}');
INSERT INTO "verdicts" VALUES(52,6,1,22,'B-11',22,0,'swap','cushion down 0.57 mm and peak pressure down 19 bar since shot 13 (4 to 15): most likely the insert (0.85), parting-line wear; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.51297987570908132326e-01,13,4,15,0.0,0.0,0.0,2.0409617343851145677e+01,2.0,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5688853790672955,"least":0.01890275579468421},{"channel":"peak_pressure","size":-19.27065379925212,"least":2.1739248628485552},{"channel":"fill_time","size":0.0,"least":0.012}],"cause_weight":0.6187850645531868,"passed":{"channel":"cushion","limit":4.4,"derived":false}}');
INSERT INTO "verdicts" VALUES(53,6,1,23,'B-12',1,1,'keep','settling: shot 1 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":26}');
INSERT INTO "verdicts" VALUES(54,6,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":26}');
INSERT INTO "verdicts" VALUES(55,6,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":26}');
INSERT INTO "verdicts" VALUES(56,6,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
INSERT INTO "verdicts" VALUES(57,7,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":26}');
INSERT INTO "verdicts" VALUES(58,7,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning"}');
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
