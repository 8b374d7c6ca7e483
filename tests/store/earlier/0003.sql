-- schema 0003: 51 transactions, last digest 5cc19dfc747b348e0f232aaeab49f5bf31d30ea7e7c8efbc1aeff94f2fe32ca2
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0003');
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
INSERT INTO "baths" VALUES(1,'north',NULL,NULL,NULL,NULL,'2026-11-28T16:12:36.768616Z','','2026-11-28T16:12:36.768616Z');
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
INSERT INTO "corrections" VALUES(1,'events',2,'mistyped','2026-11-28T16:12:37.477890Z');
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-28T16:12:25.624911Z');
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
INSERT INTO "dispositions" VALUES(1,1,22,22,1,'scrapped','flash','','2026-11-28T16:12:37.275370Z');
INSERT INTO "dispositions" VALUES(2,1,19,19,1,'released','looked at','','2026-11-28T16:12:37.397503Z');
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
INSERT INTO "events" VALUES(1,1,22,'finding','flash','2026-11-28T16:12:35.912512Z');
INSERT INTO "events" VALUES(2,1,25,'lot','L2','2026-11-28T16:12:35.976861Z');
INSERT INTO "events" VALUES(3,1,26,'lot','L3','2026-11-28T16:12:36.118404Z');
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
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-28T16:12:25.624911Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-28T16:12:25.868708Z');
INSERT INTO "inserts" VALUES(3,'B-12',1,'','2026-11-28T16:12:35.753181Z');
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
INSERT INTO "inspections" VALUES(1,1,4,1,'wall',1.21,1.1,1.3,'mm','1.21 mm','','','','2026-11-28T16:12:37.010712Z','','2026-11-28T16:12:37.010712Z');
INSERT INTO "inspections" VALUES(2,1,21,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-28T16:12:37.100808Z','','2026-11-28T16:12:37.100808Z');
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
INSERT INTO "judgings" VALUES(1,1,0,'85b9ab67571230d7','first judging','2026-01-05T06:00:00.000000Z');
INSERT INTO "judgings" VALUES(2,1,23,'85b9ab67571230d7','mounting of B-12 in moving at shot 23, entered after shot 26','2026-11-28T16:12:35.753181Z');
INSERT INTO "judgings" VALUES(3,1,25,'85b9ab67571230d7','lot at shot 25, entered after shot 26','2026-11-28T16:12:35.976861Z');
INSERT INTO "judgings" VALUES(4,1,26,'85b9ab67571230d7','lot at shot 26, entered after shot 26','2026-11-28T16:12:36.118404Z');
INSERT INTO "judgings" VALUES(5,1,26,'85b9ab67571230d7','removal of A-07 at shot 26, entered after shot 26','2026-11-28T16:12:36.251753Z');
INSERT INTO "judgings" VALUES(6,1,1,'85b9ab67571230d7','making of B-11 said otherwise, entered after shot 26','2026-11-28T16:12:36.505915Z');
INSERT INTO "judgings" VALUES(7,1,25,'85b9ab67571230d7','entry taken back: mistyped, entered after shot 26','2026-11-28T16:12:37.477890Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'trials:1','a1f7c375cd890f4ec48ad914fdc0aab3ffffa38c831a6a0d20f6469a2b4f3fee',NULL);
INSERT INTO "ledger" VALUES(2,'presses:1 designs:1 inserts:1 mountings:1','1ecc96a68e80c02748bfab8c25e1d53dca835de1b89b61af01bb0d1447d8e282',NULL);
INSERT INTO "ledger" VALUES(3,'inserts:2 mountings:2','78a1cbed03e590f4864bc2093e952ea8c32aadf8bd6754ebee936cf0a8ccc82e',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1','6bdf72876f0d5533695007d5142e9c04b951122f178f801358ed8d60781033c6',NULL);
INSERT INTO "ledger" VALUES(5,'shots:2','3bdabebac635d6f21a3a1362a77ac655a67b1bf567cf6cfd0e915b1ec0a42d42',NULL);
INSERT INTO "ledger" VALUES(6,'shots:3','d42665a5f2aba39754321c02a84e6161ebb37f1501ffe8198fcddd043bcb1647',NULL);
INSERT INTO "ledger" VALUES(7,'shots:4','70b588e2e98cca1fa311c2dc54acc28b02c85adadab723c87bc50ceb3b238221',NULL);
INSERT INTO "ledger" VALUES(8,'shots:5','3dd8c9528f2974c69c20affc3967d9a9de228e1f35fbd4278372fab6c668d728',NULL);
INSERT INTO "ledger" VALUES(9,'shots:6','feb7506073ec691fbc709c571f376998fdc136999307ec3aeea2145d4c34b09d',NULL);
INSERT INTO "ledger" VALUES(10,'shots:7','c64c05497dc341401e20ed454cc54c6eaebaddf7ee223b08c7279f86df10dc7e',NULL);
INSERT INTO "ledger" VALUES(11,'faults:1','20e00ec7afa4d1038a69baa8d9e0e8d06e60c123a790586bf2d7e3f0bf8f96bb',NULL);
INSERT INTO "ledger" VALUES(12,'shots:8','ad5f1b276c19cd25e92ac4cb328555f1ffc58fd51ddffd45e053f92c62b787b7',NULL);
INSERT INTO "ledger" VALUES(13,'shots:9','4fd3e4610d6503141bd50d44354d31966823db1b71263fbbcedea823dfacd258',NULL);
INSERT INTO "ledger" VALUES(14,'shots:10','7ea144f2a605d77639363589bdb0f8f7931c63eb055b76f77a86d08b5560d999',NULL);
INSERT INTO "ledger" VALUES(15,'gaps:1','e2a6d2e98ced74706d3c19e6a9c9e75c8ab4282348e06c22a32ff4ea90dbbf58',NULL);
INSERT INTO "ledger" VALUES(16,'shots:11','8ba70f9ec89d7517761e62a70fd27bd87ee278442107c088129b01abd7b80e6f',NULL);
INSERT INTO "ledger" VALUES(17,'shots:12','969c25e8a1de1f470d69cff2ba7f6feae5f0b75eb8013f41f2c018c2bd0983ac',NULL);
INSERT INTO "ledger" VALUES(18,'shots:13','a4f98aa03a3c36fe2e9143749828e5b97d484859ae19eaec9e239c0d8659428f',NULL);
INSERT INTO "ledger" VALUES(19,'shots:14','2fe9a84c9ee01be63305d415ef265b957e82eb790414e7585d3fed8e010eb219',NULL);
INSERT INTO "ledger" VALUES(20,'shots:15','131e28ba99b207905c320c3ce911ff63c7e7727043b394bab26280e5ff9b3171',NULL);
INSERT INTO "ledger" VALUES(21,'shots:16','5cbbe5140c32c344b7194f21a1c6c1ae63177568c13f3e1afd7af8e5b64e5198',NULL);
INSERT INTO "ledger" VALUES(22,'shots:17','fcbeae95df65d797c0c3d0155709c6eb4365e5a4fa2b68b3305e99034279c6a2',NULL);
INSERT INTO "ledger" VALUES(23,'shots:18','88179942c7f04b54df746077286445e81c0c57116b8a003917ce18361137188a',NULL);
INSERT INTO "ledger" VALUES(24,'shots:19','737e2ea5e8bd978efb4ac676914d3b9456e97754a96c149edbbc725f79e60151',NULL);
INSERT INTO "ledger" VALUES(25,'shots:20','45914af747e6adade9ae1a21ff80213d8dc0f67e9839589d9c8ad9d0ea798fb2',NULL);
INSERT INTO "ledger" VALUES(26,'shots:21','0196a1a57dc0d6c1e444b059eba5aba890a96319a2bc93a9ede5c5bd86321546',NULL);
INSERT INTO "ledger" VALUES(27,'shots:22','853da5e9b271234faaa3796d3627fd3809dc042873ba68221f16992b2989ac3a',NULL);
INSERT INTO "ledger" VALUES(28,'shots:23','d1a3b87fa28734f1e98fc50a62b886f0870330a1dbf4a97f7fe29aa856beb0f2',NULL);
INSERT INTO "ledger" VALUES(29,'shots:24','c4a8f6c703bf9f27058aa7215c0f2a85ac7b5a2a97cab92d266d01d23f8c43ee',NULL);
INSERT INTO "ledger" VALUES(30,'links:1','1d5f8ed73e00e237133a7a43e42ec1547b6c806f8ea1da742b5286d8fda00f3f',NULL);
INSERT INTO "ledger" VALUES(31,'weighings:1','799d9d67a6afc1f6e2f1737aaa73b472ffc9243ad47339a317587833a89bc11f',NULL);
INSERT INTO "ledger" VALUES(32,'judgings:1 verdicts:1 verdicts:2 verdicts:3 verdicts:4 verdicts:5 verdicts:6 verdicts:7 verdicts:8 baselines:1 baselines:2 baselines:3 verdicts:9 verdicts:10 verdicts:11 verdicts:12 signals:1 verdicts:13 signals:2 signals:3 verdicts:14 signals:4 signals:5 verdicts:15 signals:6 signals:7 verdicts:16 signals:8 signals:9 verdicts:17 signals:10 signals:11 verdicts:18 signals:12 signals:13 verdicts:19 signals:14 signals:15 verdicts:20 signals:16 signals:17 verdicts:21 verdicts:22 verdicts:23 verdicts:24','80baddc53b4ce17f8257f5318d9ff24dd6ac20241f9d5ff84c49d815784eb523',NULL);
INSERT INTO "ledger" VALUES(33,'inserts:3 mountings:3 judgings:2','edd5f7c46e4f7f4c3fff0676588f4ddfed8f2787d550ff8069890e289919e7eb',NULL);
INSERT INTO "ledger" VALUES(34,'verdicts:25 verdicts:26 verdicts:27 verdicts:28','801acf5fc04d5826d77ee3063be0d21e9d169be02def0c5d8424e986bee3c745',NULL);
INSERT INTO "ledger" VALUES(35,'events:1','632d52663320c9a2cda273e1e2e735d2f0666024de5aa8c49d3e2c2dd8b6c7c6',NULL);
INSERT INTO "ledger" VALUES(36,'events:2 judgings:3','a7cb277f420497c881ef7cf551e189de79d2cc0825dc80e42a7629d49f73418b',NULL);
INSERT INTO "ledger" VALUES(37,'verdicts:29 verdicts:30','4feb1043317f11aa9a12be0a62243924272545290509a7e02b3da1fcf01d9f61',NULL);
INSERT INTO "ledger" VALUES(38,'events:3 judgings:4','10c69eae5d385be8ff76852f648eaf438b8ad36ce220dbf79d0b5e04e4375f8c',NULL);
INSERT INTO "ledger" VALUES(39,'verdicts:31','b00371d2edf33f5004d2288ba62f70e93966c796b19f6bf69aaef74f568cd9d2',NULL);
INSERT INTO "ledger" VALUES(40,'removals:1 judgings:5','e7e047902d3a1cc98ba8c2246bc0625971dba17074cb7eab72b7f10502412d73',NULL);
INSERT INTO "ledger" VALUES(41,'verdicts:32','162e3db7fe6f24983c8d16be88f0da90b541d1fc591bc4762327ca8da975b5bf',NULL);
INSERT INTO "ledger" VALUES(42,'makings:1 judgings:6','aea1e675b4cd41230e96dfde7e0378384bbd6335742b28ef53d8ed64449d3cd0',NULL);
INSERT INTO "ledger" VALUES(43,'verdicts:33 verdicts:34 verdicts:35 verdicts:36 verdicts:37 verdicts:38 verdicts:39 verdicts:40 baselines:4 baselines:5 baselines:6 verdicts:41 verdicts:42 verdicts:43 verdicts:44 signals:18 verdicts:45 signals:19 signals:20 verdicts:46 signals:21 signals:22 verdicts:47 signals:23 signals:24 verdicts:48 signals:25 signals:26 verdicts:49 signals:27 signals:28 verdicts:50 signals:29 signals:30 verdicts:51 signals:31 signals:32 verdicts:52 verdicts:53 verdicts:54 verdicts:55 verdicts:56','b3ed2c006d3b088b67c95d1485fe1cd469bcc8e21e890fe397e4fbd9fdaab5b6',NULL);
INSERT INTO "ledger" VALUES(44,'baths:1','3f9a5600a7419b29230e81a5dfdfe047c2169874ecc5ffd866a173fe4723dfcb',NULL);
INSERT INTO "ledger" VALUES(45,'soaks:1 soaks:2','9a5a22e65b0209fcf5af62836896d4550d114009ecdc58315b0c6cb3f78ac9f3',NULL);
INSERT INTO "ledger" VALUES(46,'inspections:1','d063b77ebfbf26989ede610a80e50c2302f0bc4599e707bd77ea6b1e30dada34',NULL);
INSERT INTO "ledger" VALUES(47,'inspections:2','93f6ad48f9e1ff9b3270fb23164f1ad94547747c9597b1808ec95ae8e034c9a6',NULL);
INSERT INTO "ledger" VALUES(48,'dispositions:1','84f53fa45d830b23091b161fb089d719a4ca3e9e08febfa326366922c65d9e8e',NULL);
INSERT INTO "ledger" VALUES(49,'dispositions:2','6642ce1bd8640e121a58958201923df0d06c9f344379e695fb218a16a325398b',NULL);
INSERT INTO "ledger" VALUES(50,'corrections:1 judgings:7','bea62550517c41debdc33d7d51695260ff606238f8171d0de723da3ad008b14b',NULL);
INSERT INTO "ledger" VALUES(51,'verdicts:57 verdicts:58','5cc19dfc747b348e0f232aaeab49f5bf31d30ea7e7c8efbc1aeff94f2fe32ca2',NULL);
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
INSERT INTO "makings" VALUES(1,1,'cap-r2','PL-1',NULL,NULL,NULL,NULL,NULL,'60 min at 80 degC',NULL,NULL,NULL,NULL,NULL,NULL,'','2026-11-28T16:12:36.505915Z');
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
INSERT INTO "mountings" VALUES(1,1,1,'moving',1,0,'2026-11-28T16:12:25.624911Z');
INSERT INTO "mountings" VALUES(2,1,2,'fixed',1,0,'2026-11-28T16:12:25.868708Z');
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-28T16:12:35.753181Z');
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
INSERT INTO "presses" VALUES(1,'P25','2026-11-28T16:12:25.624911Z');
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
INSERT INTO "removals" VALUES(1,1,2,26,'gate worn','2026-11-28T16:12:36.251753Z');
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
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-28T16:12:36.862350Z','2026-11-29T16:12:36.862350Z','','2026-11-28T16:12:36.862350Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-28T16:12:36.862350Z','2026-11-29T16:12:36.862350Z','','2026-11-28T16:12:36.862350Z');
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
	threshold DOUBLE, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id), 
	UNIQUE (press_id, shot, judging_id)
);
INSERT INTO "verdicts" VALUES(1,1,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(2,1,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(3,1,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(4,1,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(5,1,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(6,1,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(7,1,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(8,1,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(9,1,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(10,1,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(11,1,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(12,1,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0);
INSERT INTO "verdicts" VALUES(13,1,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11; shot 15 was odd, look at that part and watch the next shot; first insert of its design, so less sharp','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0);
INSERT INTO "verdicts" VALUES(14,1,1,16,'B-11',16,0,'watch','cushion down 0.13 mm and peak pressure down 5.1 bar since shot 15 (13 to 16): most likely the insert (0.79), crack or breakage; about 12 shots left (9 to 17); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,16,12.0,9.0,17.0,5.49807360984171911155e+00,2.0);
INSERT INTO "verdicts" VALUES(15,1,1,17,'B-11',17,0,'watch','cushion down 0.16 mm and peak pressure down 5.8 bar since shot 15 (13 to 17): most likely the insert (0.79), crack or breakage; about 11 shots left (8 to 15); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,17,11.0,8.0,15.0,5.49807360984171911155e+00,2.0);
INSERT INTO "verdicts" VALUES(16,1,1,18,'B-11',18,0,'swap','cushion down 0.25 mm and peak pressure down 9.1 bar since shot 14 (10 to 18): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; about 1 shot left (1 to 1); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,18,1.0,1.0,1.0,1.16636749341061509712e+01,2.0);
INSERT INTO "verdicts" VALUES(17,1,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 11 bar since shot 14 (10 to 19): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; no good shot left; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,19,0.0,0.0,0.0,1.16636749341061509712e+01,2.0);
INSERT INTO "verdicts" VALUES(18,1,1,20,'B-11',20,0,'swap','cushion down 0.42 mm and peak pressure down 14 bar since shot 14 (4 to 20): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,20,0.0,0.0,0.0,1.6953955855033665756e+01,2.0);
INSERT INTO "verdicts" VALUES(19,1,1,21,'B-11',21,0,'swap','cushion down 0.47 mm and peak pressure down 16 bar since shot 14 (4 to 21): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,21,0.0,0.0,0.0,1.6953955855033665756e+01,2.0);
INSERT INTO "verdicts" VALUES(20,1,1,22,'B-11',22,0,'swap','cushion down 0.57 mm and peak pressure down 19 bar since shot 13 (4 to 15): most likely the insert (0.85), parting-line wear; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.51297987570908132326e-01,13,4,15,0.0,0.0,0.0,2.0409617343851145677e+01,2.0);
INSERT INTO "verdicts" VALUES(21,1,1,23,'B-11',23,0,'swap','cushion down 0.63 mm and peak pressure down 21 bar since shot 13 (4 to 15): most likely the insert (0.85), parting-line wear; no good shot left; look for flash on both halves, then read the clamp force','mr:cushion:above;mr:peak_pressure:above','parting-line wear','insert',8.51297987570908132326e-01,13,4,15,0.0,0.0,0.0,2.0409617343851145677e+01,2.0);
INSERT INTO "verdicts" VALUES(22,1,1,24,'B-11',24,0,'swap','cushion down 0.20 mm and peak pressure down 9.4 bar since shot 16 (15 to 24): most likely the insert (0.82), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',8.18600026966814220408e-01,16,15,24,NULL,256.0,NULL,1.49459544608261190039e+01,2.0);
INSERT INTO "verdicts" VALUES(23,1,1,25,'B-11',25,0,'swap','cushion down 0.20 mm and peak pressure down 9.5 bar since shot 16 (15 to 25): most likely the insert (0.82), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',8.18600026966814220408e-01,16,15,25,NULL,254.0,NULL,1.49459544608261190039e+01,2.0);
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-11',26,0,'swap','cushion down 0.22 mm and peak pressure down 10 bar since shot 16 (15 to 26): most likely the insert (0.83), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',8.26529048984637415564e-01,16,15,26,NULL,NULL,NULL,1.65640082628838101186e+01,2.0);
INSERT INTO "verdicts" VALUES(25,2,1,23,'B-12',1,1,'keep','settling: shot 1 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(26,2,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(27,2,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(28,2,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(29,3,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(30,3,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(31,4,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(32,5,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(33,6,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(34,6,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(35,6,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(36,6,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(37,6,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(38,6,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(39,6,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(40,6,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(41,6,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(42,6,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(43,6,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(44,6,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0);
INSERT INTO "verdicts" VALUES(45,6,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11; shot 15 was odd, look at that part and watch the next shot; first insert of its design, so less sharp','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0);
INSERT INTO "verdicts" VALUES(46,6,1,16,'B-11',16,0,'watch','cushion down 0.13 mm and peak pressure down 5.1 bar since shot 15 (13 to 16): most likely the insert (0.79), crack or breakage; about 12 shots left (9 to 17); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,16,12.0,9.0,17.0,5.49807360984171911155e+00,2.0);
INSERT INTO "verdicts" VALUES(47,6,1,17,'B-11',17,0,'watch','cushion down 0.16 mm and peak pressure down 5.8 bar since shot 15 (13 to 17): most likely the insert (0.79), crack or breakage; about 11 shots left (8 to 15); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,17,11.0,8.0,15.0,5.49807360984171911155e+00,2.0);
INSERT INTO "verdicts" VALUES(48,6,1,18,'B-11',18,0,'swap','cushion down 0.25 mm and peak pressure down 9.1 bar since shot 14 (10 to 18): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; about 1 shot left (1 to 1); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,18,1.0,1.0,1.0,1.16636749341061509712e+01,2.0);
INSERT INTO "verdicts" VALUES(49,6,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 11 bar since shot 14 (10 to 19): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; no good shot left; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,19,0.0,0.0,0.0,1.16636749341061509712e+01,2.0);
INSERT INTO "verdicts" VALUES(50,6,1,20,'B-11',20,0,'swap','cushion down 0.42 mm and peak pressure down 14 bar since shot 14 (4 to 20): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,20,0.0,0.0,0.0,1.6953955855033665756e+01,2.0);
INSERT INTO "verdicts" VALUES(51,6,1,21,'B-11',21,0,'swap','cushion down 0.47 mm and peak pressure down 16 bar since shot 14 (4 to 21): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,21,0.0,0.0,0.0,1.6953955855033665756e+01,2.0);
INSERT INTO "verdicts" VALUES(52,6,1,22,'B-11',22,0,'swap','cushion down 0.57 mm and peak pressure down 19 bar since shot 13 (4 to 15): most likely the insert (0.85), parting-line wear; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.51297987570908132326e-01,13,4,15,0.0,0.0,0.0,2.0409617343851145677e+01,2.0);
INSERT INTO "verdicts" VALUES(53,6,1,23,'B-12',1,1,'keep','settling: shot 1 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(54,6,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(55,6,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(56,6,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(57,7,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(58,7,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
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
COMMIT;
