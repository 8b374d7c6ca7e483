-- schema 0007: 55 transactions, last digest 894a70a5afb1c370d4a163caf88d1dbbd442941168a4d7f86ed8252ad1d8b59a
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0007');
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
	upper DOUBLE, per_100 INTEGER, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "baselines" VALUES(1,1,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.88366904335767770817e+00,5.11966428997565436986e+00,10);
INSERT INTO "baselines" VALUES(2,1,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.07692769407327830315e+02,5.35807230592672226535e+02,10);
INSERT INTO "baselines" VALUES(3,1,1,'B-11','fill_time',4,9,6,0.41,0.0016,3.97173824100184091889e-01,4.2282617589981585926e-01,10);
INSERT INTO "baselines" VALUES(4,7,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.88366904335767770817e+00,5.11966428997565436986e+00,10);
INSERT INTO "baselines" VALUES(5,7,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.07692769407327830315e+02,5.35807230592672226535e+02,10);
INSERT INTO "baselines" VALUES(6,7,1,'B-11','fill_time',4,9,6,0.41,0.0016,3.97173824100184091889e-01,4.2282617589981585926e-01,10);
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
INSERT INTO "baths" VALUES(1,'north',NULL,NULL,NULL,NULL,'2026-11-28T16:17:12.135304Z','','2026-11-28T16:17:12.135304Z');
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
INSERT INTO "corrections" VALUES(1,'events',2,'mistyped','2026-11-28T16:17:16.111318Z');
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-28T16:15:36.254705Z');
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
INSERT INTO "dispositions" VALUES(1,1,22,22,1,'scrapped','flash','','2026-11-28T16:17:15.422562Z');
INSERT INTO "dispositions" VALUES(2,1,19,19,1,'released','looked at','','2026-11-28T16:17:15.810854Z');
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
INSERT INTO "events" VALUES(1,1,22,'finding','flash','2026-11-28T16:17:07.226688Z');
INSERT INTO "events" VALUES(2,1,25,'lot','L2','2026-11-28T16:17:07.991180Z');
INSERT INTO "events" VALUES(3,1,26,'lot','L3','2026-11-28T16:17:08.923299Z');
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
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-28T16:15:36.254705Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-28T16:15:36.376060Z');
INSERT INTO "inserts" VALUES(3,'B-12',1,'','2026-11-28T16:16:46.825107Z');
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
INSERT INTO "inspections" VALUES(1,1,4,1,'wall',1.21,1.1,1.3,'mm','1.21 mm','','','','2026-11-28T16:17:12.774613Z','','2026-11-28T16:17:12.774613Z');
INSERT INTO "inspections" VALUES(2,1,21,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-28T16:17:13.069443Z','','2026-11-28T16:17:13.069443Z');
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
INSERT INTO "judgings" VALUES(1,1,0,'32e7ac81d2743e8f','first judging','2026-01-05T06:00:00.000000Z');
INSERT INTO "judgings" VALUES(2,1,23,'32e7ac81d2743e8f','mounting of B-12 in moving at shot 23, entered after shot 26','2026-11-28T16:16:46.825107Z');
INSERT INTO "judgings" VALUES(3,1,22,'32e7ac81d2743e8f','finding at shot 22, entered after shot 26','2026-11-28T16:17:07.226688Z');
INSERT INTO "judgings" VALUES(4,1,25,'32e7ac81d2743e8f','lot at shot 25, entered after shot 26','2026-11-28T16:17:07.991180Z');
INSERT INTO "judgings" VALUES(5,1,26,'32e7ac81d2743e8f','lot at shot 26, entered after shot 26','2026-11-28T16:17:08.923299Z');
INSERT INTO "judgings" VALUES(6,1,26,'32e7ac81d2743e8f','removal of A-07 at shot 26, entered after shot 26','2026-11-28T16:17:09.882738Z');
INSERT INTO "judgings" VALUES(7,1,1,'32e7ac81d2743e8f','making of B-11 said otherwise, entered after shot 26','2026-11-28T16:17:10.779312Z');
INSERT INTO "judgings" VALUES(8,1,25,'32e7ac81d2743e8f','entry taken back: mistyped, entered after shot 26','2026-11-28T16:17:16.111318Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'trials:1','a1f7c375cd890f4ec48ad914fdc0aab3ffffa38c831a6a0d20f6469a2b4f3fee',NULL);
INSERT INTO "ledger" VALUES(2,'presses:1 designs:1 inserts:1 mountings:1','c81f4850a9b14ebadeca4237f635941707a5dc9ef2492a46b2b8f6dc1ec78c7f',NULL);
INSERT INTO "ledger" VALUES(3,'inserts:2 mountings:2','6b6324564f14aeb7f41718296840bcb9aeba0ff3b215ae7c4d1a3845e56347db',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1','fcd4cc0786af69fbbb4c73f5ddc178e7f03ae787a8d3f1a1b0f5f60cec9a0d63',NULL);
INSERT INTO "ledger" VALUES(5,'shots:2','68140ac3a1b5df219d9da843f4854f21d715f8c7c3d14a1de4646cdfb98acdaf',NULL);
INSERT INTO "ledger" VALUES(6,'shots:3','e95f0069235bcfa404352ebdd3d70a943a580679e46f7846812da40dfd9f65c2',NULL);
INSERT INTO "ledger" VALUES(7,'shots:4','6328d8a219d8d90115b94abc104939d1567f1aa4c73fad0c076b113fdeecf337',NULL);
INSERT INTO "ledger" VALUES(8,'shots:5','f0cc995116ddbe1c05b8d9e0de83d5ac77146300f155d4371fee1666e7c27aa9',NULL);
INSERT INTO "ledger" VALUES(9,'shots:6','5f1ff9938cfbb9c68a41052dafface00780ba768b8123f11253836b6e4f6b1bb',NULL);
INSERT INTO "ledger" VALUES(10,'shots:7','1d1725a0aa692d734d7b459f9590bb4181f3da77d5dfc66dfc1d5ca7d91e5c3e',NULL);
INSERT INTO "ledger" VALUES(11,'faults:1','728965f13d1983e022aad2afbf2c78648ca443cd6f0abf9a77eb2f206dc9eadf',NULL);
INSERT INTO "ledger" VALUES(12,'shots:8','157ede67f0bea2c0b9efa2e8541b0d823ca46771bf597c60371035c3a82b4853',NULL);
INSERT INTO "ledger" VALUES(13,'shots:9','8a133a93811412df0b3cb432a4ebf5c224078b4f14affff3020ab7255e7feb91',NULL);
INSERT INTO "ledger" VALUES(14,'shots:10','f2a8709929bf157a05384717ea7a191cb5ef988bac42c83903c6907df46d4a5c',NULL);
INSERT INTO "ledger" VALUES(15,'gaps:1','b42713c7a4727f14f7a6b09bcbc1e69055249df9785842f2f0dd57f9100bd978',NULL);
INSERT INTO "ledger" VALUES(16,'shots:11','99b890dbdb13d69d31a2935343c1095ae5dcd1af5f662a193c9a0422f7bbc549',NULL);
INSERT INTO "ledger" VALUES(17,'shots:12','888ca30dc7d9d5141e42451b39982480502ed5419ff90a895071bbc6e8fa241c',NULL);
INSERT INTO "ledger" VALUES(18,'shots:13','998b57b2c85124688badf5c6e66120b0ee5b9903e15b3ac0f946b4782c37a9e1',NULL);
INSERT INTO "ledger" VALUES(19,'shots:14','c585fe1cb8fac50bf090a7a693e701fecae0dd26faf39b2f4c40b4e2a7715ecd',NULL);
INSERT INTO "ledger" VALUES(20,'shots:15','e15a8abd09005ae3c2c94e366086bba3b7b9b572b46159f74d3328cd09617cfd',NULL);
INSERT INTO "ledger" VALUES(21,'shots:16','f00018020c44393deb4c3ab01c9e20910de40a7765b8ef80490567687265d6b8',NULL);
INSERT INTO "ledger" VALUES(22,'shots:17','ce3824cb8e7410b36a6ad9774f4ad511bd9119940f67b16e8d075a1a08ec28b8',NULL);
INSERT INTO "ledger" VALUES(23,'shots:18','a5be382141e5783125b6b98191b93841c8fdd737048142d921461c6d9ec94de7',NULL);
INSERT INTO "ledger" VALUES(24,'shots:19','c08f06931edd9d13675a1d9e3cf4bcd46b5d84ca17b7b54ad08c0374adec9e0f',NULL);
INSERT INTO "ledger" VALUES(25,'shots:20','f164a90b5307c295f29df36962e92712eb911433829c578180fa2e6adeb6d49c',NULL);
INSERT INTO "ledger" VALUES(26,'shots:21','d283a2bc4d22ae7f90a26c3efef803e8996d19a0118faa9c2e6b78715df1cb4b',NULL);
INSERT INTO "ledger" VALUES(27,'shots:22','4b0846f43035d42b9810b8c5d106d4a296373f8f45558cfc246f1763a2d08311',NULL);
INSERT INTO "ledger" VALUES(28,'shots:23','1a777099e8976fa9ba0e02cf208374989d00897f2fa9fd87e57950333fadeed5',NULL);
INSERT INTO "ledger" VALUES(29,'shots:24','4013e5258d892ae6965f67e30f51d6acb22e9cf1fc5497781240582f3dce3e32',NULL);
INSERT INTO "ledger" VALUES(30,'links:1','a1979888f2d3c54bb3fb34eaba05c1231e9dbc099cdfe9ea0ee959a646ef83ea',NULL);
INSERT INTO "ledger" VALUES(31,'weighings:1','a0d418ef59dfc01fb5e2f2f118e28785c67a51ace4931c4e1e1d42ddfaacb9b6',NULL);
INSERT INTO "ledger" VALUES(32,'judgings:1 verdicts:1 verdicts:2 verdicts:3 verdicts:4 verdicts:5 verdicts:6 verdicts:7 verdicts:8 baselines:1 baselines:2 baselines:3 verdicts:9 verdicts:10 verdicts:11 verdicts:12 signals:1 verdicts:13 signals:2 verdicts:14 signals:3 signals:4 verdicts:15 signals:5 signals:6 verdicts:16 signals:7 signals:8 verdicts:17 signals:9 signals:10 verdicts:18 signals:11 signals:12 verdicts:19 signals:13 signals:14 verdicts:20 signals:15 signals:16 verdicts:21 verdicts:22 verdicts:23 verdicts:24','2bb147702c147b408497554a762ec40567d1c430531077b5a2c223691e96d0c4',NULL);
INSERT INTO "ledger" VALUES(33,'inserts:3 mountings:3 judgings:2','7bb079dda13262955a4f608cae5f5bc02f106b209642382bc333f62a5d1fba09',NULL);
INSERT INTO "ledger" VALUES(34,'verdicts:25','294a15b0158b4ebb65b43052e39b3e3ac79e9c67b5065254ddbcbe004f9b8594',NULL);
INSERT INTO "ledger" VALUES(35,'verdicts:26 verdicts:27 verdicts:28','5f6554800213be9b5f3b9f758e278771c5ed670cc4a18098386e00fc76f8a207',NULL);
INSERT INTO "ledger" VALUES(36,'events:1 judgings:3','b39947c51cee651ffad485462c977cca9097771a1fddbcf28f82a1ab6dc9d2e3',NULL);
INSERT INTO "ledger" VALUES(37,'signals:17 signals:18 verdicts:29 verdicts:30 verdicts:31 verdicts:32 verdicts:33','8b56fdb977cafc160f21e78a6ce35a8c6f82154a1362110d8d815870cf07c67c',NULL);
INSERT INTO "ledger" VALUES(38,'events:2 judgings:4','715545d0d6df6d67ff6984fc2d294b219c818c47b3e08ee49ac0e7d47dfb186f',NULL);
INSERT INTO "ledger" VALUES(39,'verdicts:34 verdicts:35','69c42c650f3db03b05feac567d4bc6386fb3e34b0abcea6eb45bd31a1a9ce1a5',NULL);
INSERT INTO "ledger" VALUES(40,'events:3 judgings:5','feb45dd56709be7a2501836c692174897ef91a416c0f61c4212f2d1c7a8ac6c5',NULL);
INSERT INTO "ledger" VALUES(41,'verdicts:36','c3c3fe3d5b9b20f28d66f3b6c22d628c0575c82139c364ffc409a5a7ae488bdb',NULL);
INSERT INTO "ledger" VALUES(42,'removals:1 judgings:6','48f24f51e458af6f50f05979366c644c502117c827538bbac8c462ec3f438ecd',NULL);
INSERT INTO "ledger" VALUES(43,'verdicts:37','b971d8d50ec818a725ef1e83742e86c7b917fc5d94826a7de2d507b22bf2e617',NULL);
INSERT INTO "ledger" VALUES(44,'makings:1 judgings:7','fc4f5a97f95e9483eeebfe2566908f669100b9dfcdf9881c1d0d08ef73edfc64',NULL);
INSERT INTO "ledger" VALUES(45,'verdicts:38 verdicts:39 verdicts:40 verdicts:41 verdicts:42 verdicts:43 verdicts:44 verdicts:45 baselines:4 baselines:5 baselines:6 verdicts:46','b445c82ab43fa90b9e01a9bfdc579cb7c05b6272c5b09ea2b22691646ed3cb44',NULL);
INSERT INTO "ledger" VALUES(46,'verdicts:47 verdicts:48 verdicts:49 signals:19 verdicts:50 signals:20 verdicts:51 signals:21 signals:22 verdicts:52 signals:23 signals:24 verdicts:53 signals:25 signals:26 verdicts:54 signals:27 signals:28 verdicts:55 signals:29 signals:30 verdicts:56 signals:31 signals:32 verdicts:57','3c6837355ced2b1a76255ef06c48f968ad1cdcf8b4e3b26a0b13ee20fe39a4d4',NULL);
INSERT INTO "ledger" VALUES(47,'verdicts:58 verdicts:59 verdicts:60 verdicts:61','e715ea677f269241e3fd3ece5cfaf3898586acffb437b816ca06a6bd3dcc7881',NULL);
INSERT INTO "ledger" VALUES(48,'baths:1','e27167a2afd1e6ab06f64b10995ce8539b73ff28bf61d14a6b8386eba97da384',NULL);
INSERT INTO "ledger" VALUES(49,'soaks:1 soaks:2','3ecfc8a7f551a641344e57b3284c3d58b07331a63e8c46241f4cda6b032937c8',NULL);
INSERT INTO "ledger" VALUES(50,'inspections:1','ed02b6dc7e15c4c80f36f76147b5ff88f370def130186682ef29dd7003320378',NULL);
INSERT INTO "ledger" VALUES(51,'inspections:2','d8bd26f0106cfb2398c5e9c2d7ea6f14c2136ad51cacae521e1b349edfc22a07',NULL);
INSERT INTO "ledger" VALUES(52,'dispositions:1','0ecf89a9c2849187cbd218526857f033880638570169909e35c476b4fb5f40ee',NULL);
INSERT INTO "ledger" VALUES(53,'dispositions:2','ae4aa4464aa793c69097cbc9985438aab5c5612674587501fff2fb573aea9c70',NULL);
INSERT INTO "ledger" VALUES(54,'corrections:1 judgings:8','a9a418216ab801ff1789687cd2a69f8c6bd1bc9c33a147572c6f45eebd717135',NULL);
INSERT INTO "ledger" VALUES(55,'verdicts:62 verdicts:63','894a70a5afb1c370d4a163caf88d1dbbd442941168a4d7f86ed8252ad1d8b59a',NULL);
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
INSERT INTO "makings" VALUES(1,1,'cap-r2','PL-1',NULL,NULL,NULL,NULL,NULL,'60 min at 80 degC',NULL,NULL,NULL,NULL,NULL,NULL,'','2026-11-28T16:17:10.779312Z');
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
INSERT INTO "mountings" VALUES(1,1,1,'moving',1,0,'2026-11-28T16:15:36.254705Z');
INSERT INTO "mountings" VALUES(2,1,2,'fixed',1,0,'2026-11-28T16:15:36.376060Z');
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-28T16:16:46.825107Z');
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
INSERT INTO "presses" VALUES(1,'P25','2026-11-28T16:15:36.254705Z');
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
INSERT INTO "removals" VALUES(1,1,2,26,'gate worn','2026-11-28T16:17:09.882738Z');
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
INSERT INTO "signals" VALUES(1,1,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(2,1,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(3,1,1,17,'individuals','cushion','below',4.77999999999999936051e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(4,1,1,17,'individuals','peak_pressure','below',505.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(5,1,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(6,1,1,18,'individuals','peak_pressure','below',503.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(7,1,1,19,'individuals','cushion','below',4.64999999999999946709e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(8,1,1,19,'individuals','peak_pressure','below',500.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(9,1,1,20,'individuals','cushion','below',4.56000000000000049737e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(10,1,1,20,'individuals','peak_pressure','below',492.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(11,1,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(12,1,1,21,'individuals','peak_pressure','below',489.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(13,1,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(14,1,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(15,1,1,23,'mr','cushion','above',5.10000000000000675015e-01,1.66092916172225768534e-02,0.0,1.54495154468093032207e-01);
INSERT INTO "signals" VALUES(16,1,1,23,'mr','peak_pressure','above',37.5,1.97868936421577434892e+00,0.0,1.8405235214962647916e+01);
INSERT INTO "signals" VALUES(17,3,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(18,3,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(19,7,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(20,7,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(21,7,1,17,'individuals','cushion','below',4.77999999999999936051e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(22,7,1,17,'individuals','peak_pressure','below',505.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(23,7,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(24,7,1,18,'individuals','peak_pressure','below',503.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(25,7,1,19,'individuals','cushion','below',4.64999999999999946709e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(26,7,1,19,'individuals','peak_pressure','below',500.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(27,7,1,20,'individuals','cushion','below',4.56000000000000049737e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(28,7,1,20,'individuals','peak_pressure','below',492.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(29,7,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(30,7,1,21,'individuals','peak_pressure','below',489.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(31,7,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(32,7,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
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
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-28T16:17:12.421698Z','2026-11-29T16:17:12.421698Z','','2026-11-28T16:17:12.421698Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-28T16:17:12.421698Z','2026-11-29T16:17:12.421698Z','','2026-11-28T16:17:12.421698Z');
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
INSERT INTO "verdicts" VALUES(4,1,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it; what could be seen by now: a step of 0.86 mm in cushion, 120 bar in peak pressure or 0.304 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.8567555068164849},{"channel":"peak_pressure","size":119.89970070438673},{"channel":"fill_time","size":0.30362614123229176}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(5,1,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it; what could be seen by now: a step of 0.48 mm in cushion, 58 bar in peak pressure or 0.154 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.47897028169997913},{"channel":"peak_pressure","size":58.47350452731671},{"channel":"fill_time","size":0.15383608591190312}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(6,1,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it; what could be seen by now: a step of 0.31 mm in cushion, 42 bar in peak pressure or 0.099 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.3144643039459433},{"channel":"peak_pressure","size":41.698264740550144},{"channel":"fill_time","size":0.09876714588006051}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(7,1,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it; what could be seen by now: a step of 0.29 mm in cushion, 34 bar in peak pressure or 0.070 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.29202122557968746},{"channel":"peak_pressure","size":33.59427907927261},{"channel":"fill_time","size":0.06969168958413281}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(8,1,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it; what could be seen by now: a step of 0.22 mm in cushion, 30 bar in peak pressure or 0.052 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.2215112646703656},{"channel":"peak_pressure","size":29.820228478958473},{"channel":"fill_time","size":0.052030914316076676}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(9,1,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it; what could be seen by now: a step of 0.17 mm in cushion, 24 bar in peak pressure or 0.041 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.16951654471627195},{"channel":"peak_pressure","size":23.783443786327712},{"channel":"fill_time","size":0.040969914434306046}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(10,1,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it; what could be seen by now: a step of 0.16 mm in cushion, 20 bar in peak pressure or 0.034 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.15648683443938569},{"channel":"peak_pressure","size":20.449629781658384},{"channel":"fill_time","size":0.03411091880922406}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(11,1,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it; what could be seen by now: a step of 0.15 mm in cushion, 18 bar in peak pressure or 0.030 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.15044205910930453},{"channel":"peak_pressure","size":18.36291095905238},{"channel":"fill_time","size":0.029951815246898633}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(12,1,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11 in the moving half; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(13,1,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11 in the moving half; shot 15 was odd, look at that part and watch the next shot; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(14,1,1,16,'B-11',16,0,'swap','cushion down 0.13 mm and peak pressure down 6.8 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11 or A-07; about 35 shots left (0 to over 300); 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below','crack or breakage','insert',0.731561430669285,15,13,15,35.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.12993895381323983,"least":0.019516169517501104},{"channel":"peak_pressure","size":-6.765329809650268,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662543303480739}',NULL,NULL);
INSERT INTO "verdicts" VALUES(15,1,1,17,'B-11',17,0,'swap','cushion down 0.16 mm and peak pressure down 8.5 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11 or A-07; about 34 shots left (0 to over 300); 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',0.731561430669285,15,13,15,34.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.15852589003382478,"least":0.019516169517501104},{"channel":"peak_pressure","size":-8.514523800678893,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662518253585762}',NULL,NULL);
INSERT INTO "verdicts" VALUES(16,1,1,18,'B-11',18,0,'swap','cushion down 0.24 mm and peak pressure down 15 bar since shot 14 (13 to 18): most likely the insert (0.70), unknown; which half cannot be told: B-11 or A-07; about 18 shots left (13 to 24); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777451516e-01,14,13,18,18.0,13.0,24.0,1.25222762168596819516e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.24325036832185803,"least":0.019516169517501104},{"channel":"peak_pressure","size":-15.233370511108678,"least":2.0005402415750657},{"channel":"fill_time","size":4.433494096390017e-06,"least":0.012}],"cause_weight":0.2574454275614312,"half":"moving","halves_alike":"A-07","bad_chance":0.048140557210316105}',NULL,NULL);
INSERT INTO "verdicts" VALUES(17,1,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 18 bar since shot 14 (13 to 19): most likely the insert (0.70), unknown; which half cannot be told: B-11 or A-07; about 17 shots left (13 to 23); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777451516e-01,14,13,19,17.0,13.0,23.0,1.25222762168596819516e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2902759452192589,"least":0.019516169517501104},{"channel":"peak_pressure","size":-18.20729742829381,"least":2.0005402415750657},{"channel":"fill_time","size":4.433494096390017e-06,"least":0.012}],"cause_weight":0.2574454275614312,"half":"moving","halves_alike":"A-07","bad_chance":0.04810049662896436}',NULL,NULL);
INSERT INTO "verdicts" VALUES(18,1,1,20,'B-11',20,0,'swap','cushion down 0.37 mm and peak pressure down 23 bar since shot 14 (10 to 20): most likely the insert (0.68), unknown; which half cannot be told: B-11 or A-07; about 6 shots left (4 to 10); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.76938462675494068143e-01,14,10,20,6.0,4.0,10.0,1.8515516538312542849e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.37219113398647885,"least":0.019516169517501104},{"channel":"peak_pressure","size":-23.163818475080753,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606908103e-07,"least":0.012}],"cause_weight":0.30411450834103043,"half":"moving","halves_alike":"A-07","bad_chance":0.008586168846567935}',NULL,NULL);
INSERT INTO "verdicts" VALUES(19,1,1,21,'B-11',21,0,'swap','cushion down 0.43 mm and peak pressure down 26 bar since shot 14 (10 to 21): most likely the insert (0.68), unknown; which half cannot be told: B-11 or A-07; about 5 shots left (3 to 9); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.76938462675494068143e-01,14,10,21,5.0,3.0,9.0,1.8515516538312542849e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.42572709890272664,"least":0.019516169517501104},{"channel":"peak_pressure","size":-26.494584689496538,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606908103e-07,"least":0.012}],"cause_weight":0.30411450834103043,"half":"moving","halves_alike":"A-07","bad_chance":0.008549638086319273}',NULL,NULL);
INSERT INTO "verdicts" VALUES(20,1,1,22,'B-11',22,0,'swap','cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11 or A-07; about 3 shots left (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.83366288852090497663e-01,14,5,22,3.0,2.0,4.0,2.21702103414882714096e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.47597085791960925,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125475,"least":2.0005402415750657},{"channel":"fill_time","size":3.86877465560968e-07,"least":0.012}],"cause_weight":0.289482941930418,"rival":"parting-line wear","rival_weight":0.21989388075096733,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255849}',NULL,NULL);
INSERT INTO "verdicts" VALUES(21,1,1,23,'B-11',23,0,'swap','cushion down 0.53 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11 or A-07; about 2 shots left (0 to 3); 43% that the next part is bad; look at the last part and at both halves','mr:cushion:above;mr:peak_pressure:above','unknown','insert',6.83366288852090497663e-01,14,5,23,2.0,0.0,3.0,2.21702103414882714096e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5276019475770479,"least":0.019516169517501104},{"channel":"peak_pressure","size":-32.03308513151212,"least":2.0005402415750657},{"channel":"fill_time","size":4.294989990164108e-07,"least":0.012}],"cause_weight":0.289482941930418,"rival":"parting-line wear","rival_weight":0.21989388075096733,"half":"moving","halves_alike":"A-07","bad_chance":0.4297533697698535}',NULL,NULL);
INSERT INTO "verdicts" VALUES(22,1,1,24,'B-11',24,0,'keep','no change seen in these values since shot 23; shot 24 on B-11 in the moving half; what could be seen by now: a step of 0.22 mm in cushion, 21 bar in peak pressure or 0.026 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-3.44045954995354197336e+00,3.1,'{"stage":"quiet","quiet_since":23,"n_sisters":0,"visible":[{"channel":"cushion","size":0.22018790037078156},{"channel":"peak_pressure","size":21.256087645785783},{"channel":"fill_time","size":0.02639459422725235}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(23,1,1,25,'B-11',25,0,'swap','limit passed: level of the cushion 4.39 mm is below 4.40 mm; no change seen in these values since shot 23; shot 25 on B-11 in the moving half; what could be seen by now: a step of 0.22 mm in cushion, 21 bar in peak pressure or 0.026 s in fill time; look at the last part','','','',NULL,NULL,NULL,NULL,0.0,0.0,0.0,-3.10044458449034232572e+00,3.1,'{"stage":"quiet","quiet_since":23,"n_sisters":0,"limits":[{"channel":"cushion","limit":4.4,"derived":false,"value":4.388014029439464,"running":0,"level":true}],"visible":[{"channel":"cushion","size":0.22018790037078156},{"channel":"peak_pressure","size":21.256087645785783},{"channel":"fill_time","size":0.02639459422725235}],"half":"moving"}',NULL,'cushion');
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-11',26,0,'swap','limit passed: level of the cushion 4.36 mm is below 4.40 mm; no change seen in these values since shot 23; shot 26 on B-11 in the moving half; what could be seen by now: a step of 0.22 mm in cushion, 21 bar in peak pressure or 0.026 s in fill time; look at the last part','','','',NULL,NULL,NULL,NULL,0.0,0.0,0.0,-3.10044458449034232572e+00,3.1,'{"stage":"quiet","quiet_since":23,"n_sisters":0,"limits":[{"channel":"cushion","limit":4.4,"derived":false,"value":4.3550761512618985,"running":0,"level":true}],"visible":[{"channel":"cushion","size":0.22018790037078156},{"channel":"peak_pressure","size":21.256087645785783},{"channel":"fill_time","size":0.02639459422725235}],"half":"moving"}',NULL,'cushion');
INSERT INTO "verdicts" VALUES(25,2,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 10 shots left (7 to 15); look at the last part and at both halves','','unknown','insert',6.82815904636515647041e-01,14,5,23,10.0,7.0,15.0,2.20017702066360527619e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101397,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.566363685430243,"least":2.0005402415750657},{"channel":"fill_time","size":3.6656252743536184e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.2161530808920883,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(26,2,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 16 shots left (12 to 20); look at the last part and at both halves','','unknown','insert',6.78429710676231811916e-01,14,6,24,16.0,12.0,20.0,2.17464198434011599667e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873557,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.637526325910235e-07,"least":0.012}],"cause_weight":0.2927511294470245,"rival":"parting-line wear","rival_weight":0.19728678367209396,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(27,2,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 17 shots left (14 to 22); look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(28,2,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; the change on B-11 reset with the swap: it was the insert (by the shots since 29 to 1, before it stood 1 to 1); shot 4 on B-12 in the moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,7.77713113401275801805e-01,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231600426},{"channel":"peak_pressure","size":31.395224676719586},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.361160196039381,"log_prior":0.2654811017191876}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(29,3,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11 or A-07; about 3 shots left (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.83366288852090497663e-01,14,5,22,3.0,2.0,4.0,2.21702103414882714096e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.47597085791960925,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125475,"least":2.0005402415750657},{"channel":"fill_time","size":3.86877465560968e-07,"least":0.012}],"cause_weight":0.289482941930418,"rival":"parting-line wear","rival_weight":0.21989388075096733,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255849,"found":{"shot":22,"text":"flash"}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(30,3,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 10 shots left (7 to 15); look at the last part and at both halves','','unknown','insert',6.82815904636515647041e-01,14,5,23,10.0,7.0,15.0,2.20017702066360527619e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101397,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.566363685430243,"least":2.0005402415750657},{"channel":"fill_time","size":3.6656252743536184e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.2161530808920883,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(31,3,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 16 shots left (12 to 20); look at the last part and at both halves','','unknown','insert',6.78429710676231811916e-01,14,6,24,16.0,12.0,20.0,2.17464198434011599667e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873557,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.637526325910235e-07,"least":0.012}],"cause_weight":0.2927511294470245,"rival":"parting-line wear","rival_weight":0.19728678367209396,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(32,3,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 17 shots left (14 to 22); look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(33,3,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; the change on B-11 reset with the swap: it was the insert (by the shots since 29 to 1, before it stood 1 to 1); shot 4 on B-12 in the moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.04369260743059832918e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231600426},{"channel":"peak_pressure","size":31.395224676719586},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.361160196039381,"log_prior":0.2654811017191876}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(34,4,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 17 shots left (14 to 22); look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(35,4,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; the change on B-11 reset with the swap: it was the insert (by the shots since 29 to 1, before it stood 1 to 1); shot 4 on B-12 in the moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.14012967720955171735e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231600426},{"channel":"peak_pressure","size":31.395224676719586},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.361160196039381,"log_prior":0.2654811017191876}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(36,5,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; the change on B-11 reset with the swap: it was the insert (by the shots since 29 to 1, before it stood 1 to 1); shot 4 on B-12 in the moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.65000595950459505445e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231600426},{"channel":"peak_pressure","size":31.395224676719586},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.361160196039381,"log_prior":0.2654811017191876}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(37,6,1,26,'B-12',4,1,'keep','settling after a wait: no change is called; shot 4 on B-12; what could be seen by now: a step of 0.52 mm in cushion, 42 bar in peak pressure or 0.028 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.50443954122476974966e+00,2.3,'{"stage":"waited","visible":[{"channel":"cushion","size":0.5192830254694828},{"channel":"peak_pressure","size":42.132931745945086},{"channel":"fill_time","size":0.027961529623892426}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(38,7,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(39,7,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(40,7,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(41,7,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it; what could be seen by now: a step of 0.86 mm in cushion, 120 bar in peak pressure or 0.304 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.8567555068164849},{"channel":"peak_pressure","size":119.89970070438673},{"channel":"fill_time","size":0.30362614123229176}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(42,7,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it; what could be seen by now: a step of 0.48 mm in cushion, 58 bar in peak pressure or 0.154 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.47897028169997913},{"channel":"peak_pressure","size":58.47350452731671},{"channel":"fill_time","size":0.15383608591190312}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(43,7,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it; what could be seen by now: a step of 0.31 mm in cushion, 42 bar in peak pressure or 0.099 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.3144643039459433},{"channel":"peak_pressure","size":41.698264740550144},{"channel":"fill_time","size":0.09876714588006051}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(44,7,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it; what could be seen by now: a step of 0.29 mm in cushion, 34 bar in peak pressure or 0.070 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.29202122557968746},{"channel":"peak_pressure","size":33.59427907927261},{"channel":"fill_time","size":0.06969168958413281}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(45,7,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it; what could be seen by now: a step of 0.22 mm in cushion, 30 bar in peak pressure or 0.052 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.2215112646703656},{"channel":"peak_pressure","size":29.820228478958473},{"channel":"fill_time","size":0.052030914316076676}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(46,7,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it; what could be seen by now: a step of 0.17 mm in cushion, 24 bar in peak pressure or 0.041 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.16951654471627195},{"channel":"peak_pressure","size":23.783443786327712},{"channel":"fill_time","size":0.040969914434306046}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(47,7,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it; what could be seen by now: a step of 0.16 mm in cushion, 20 bar in peak pressure or 0.034 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.15648683443938569},{"channel":"peak_pressure","size":20.449629781658384},{"channel":"fill_time","size":0.03411091880922406}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(48,7,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it; what could be seen by now: a step of 0.15 mm in cushion, 18 bar in peak pressure or 0.030 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","visible":[{"channel":"cushion","size":0.15044205910930453},{"channel":"peak_pressure","size":18.36291095905238},{"channel":"fill_time","size":0.029951815246898633}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(49,7,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11 in the moving half; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(50,7,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11 in the moving half; shot 15 was odd, look at that part and watch the next shot; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(51,7,1,16,'B-11',16,0,'swap','cushion down 0.13 mm and peak pressure down 6.8 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11 or A-07; about 35 shots left (0 to over 300); 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below','crack or breakage','insert',0.731561430669285,15,13,15,35.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.12993895381323983,"least":0.019516169517501104},{"channel":"peak_pressure","size":-6.765329809650268,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662543303480739}',NULL,NULL);
INSERT INTO "verdicts" VALUES(52,7,1,17,'B-11',17,0,'swap','cushion down 0.16 mm and peak pressure down 8.5 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11 or A-07; about 34 shots left (0 to over 300); 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',0.731561430669285,15,13,15,34.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.15852589003382478,"least":0.019516169517501104},{"channel":"peak_pressure","size":-8.514523800678893,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662518253585762}',NULL,NULL);
INSERT INTO "verdicts" VALUES(53,7,1,18,'B-11',18,0,'swap','cushion down 0.24 mm and peak pressure down 15 bar since shot 14 (13 to 18): most likely the insert (0.70), unknown; which half cannot be told: B-11 or A-07; about 18 shots left (13 to 24); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777451516e-01,14,13,18,18.0,13.0,24.0,1.25222762168596819516e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.24325036832185803,"least":0.019516169517501104},{"channel":"peak_pressure","size":-15.233370511108678,"least":2.0005402415750657},{"channel":"fill_time","size":4.433494096390017e-06,"least":0.012}],"cause_weight":0.2574454275614312,"half":"moving","halves_alike":"A-07","bad_chance":0.048140557210316105}',NULL,NULL);
INSERT INTO "verdicts" VALUES(54,7,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 18 bar since shot 14 (13 to 19): most likely the insert (0.70), unknown; which half cannot be told: B-11 or A-07; about 17 shots left (13 to 23); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777451516e-01,14,13,19,17.0,13.0,23.0,1.25222762168596819516e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2902759452192589,"least":0.019516169517501104},{"channel":"peak_pressure","size":-18.20729742829381,"least":2.0005402415750657},{"channel":"fill_time","size":4.433494096390017e-06,"least":0.012}],"cause_weight":0.2574454275614312,"half":"moving","halves_alike":"A-07","bad_chance":0.04810049662896436}',NULL,NULL);
INSERT INTO "verdicts" VALUES(55,7,1,20,'B-11',20,0,'swap','cushion down 0.37 mm and peak pressure down 23 bar since shot 14 (10 to 20): most likely the insert (0.68), unknown; which half cannot be told: B-11 or A-07; about 6 shots left (4 to 10); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.76938462675494068143e-01,14,10,20,6.0,4.0,10.0,1.8515516538312542849e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.37219113398647885,"least":0.019516169517501104},{"channel":"peak_pressure","size":-23.163818475080753,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606908103e-07,"least":0.012}],"cause_weight":0.30411450834103043,"half":"moving","halves_alike":"A-07","bad_chance":0.008586168846567935}',NULL,NULL);
INSERT INTO "verdicts" VALUES(56,7,1,21,'B-11',21,0,'swap','cushion down 0.43 mm and peak pressure down 26 bar since shot 14 (10 to 21): most likely the insert (0.68), unknown; which half cannot be told: B-11 or A-07; about 5 shots left (3 to 9); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.76938462675494068143e-01,14,10,21,5.0,3.0,9.0,1.8515516538312542849e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.42572709890272664,"least":0.019516169517501104},{"channel":"peak_pressure","size":-26.494584689496538,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606908103e-07,"least":0.012}],"cause_weight":0.30411450834103043,"half":"moving","halves_alike":"A-07","bad_chance":0.008549638086319273}',NULL,NULL);
INSERT INTO "verdicts" VALUES(57,7,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11 or A-07; about 3 shots left (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.83366288852090497663e-01,14,5,22,3.0,2.0,4.0,2.21702103414882714096e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.47597085791960925,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125475,"least":2.0005402415750657},{"channel":"fill_time","size":3.86877465560968e-07,"least":0.012}],"cause_weight":0.289482941930418,"rival":"parting-line wear","rival_weight":0.21989388075096733,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255849,"found":{"shot":22,"text":"flash"}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(58,7,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 10 shots left (7 to 15); look at the last part and at both halves','','unknown','insert',6.82815904636515647041e-01,14,5,23,10.0,7.0,15.0,2.20017702066360527619e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101397,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.566363685430243,"least":2.0005402415750657},{"channel":"fill_time","size":3.6656252743536184e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.2161530808920883,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(59,7,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 16 shots left (12 to 20); look at the last part and at both halves','','unknown','insert',6.78429710676231811916e-01,14,6,24,16.0,12.0,20.0,2.17464198434011599667e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873557,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.637526325910235e-07,"least":0.012}],"cause_weight":0.2927511294470245,"rival":"parting-line wear","rival_weight":0.19728678367209396,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(60,7,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 17 shots left (14 to 22); look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(61,7,1,26,'B-12',4,1,'keep','settling after a wait: no change is called; shot 4 on B-12; what could be seen by now: a step of 0.52 mm in cushion, 42 bar in peak pressure or 0.028 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.50443954122476974966e+00,2.3,'{"stage":"waited","visible":[{"channel":"cushion","size":0.5192830254694828},{"channel":"peak_pressure","size":42.132931745945086},{"channel":"fill_time","size":0.027961529623892426}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(62,8,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear in the fixed half; about 17 shots left (14 to 22); look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed"}',NULL,NULL);
INSERT INTO "verdicts" VALUES(63,8,1,26,'B-12',4,1,'keep','settling after a wait: no change is called; shot 4 on B-12; what could be seen by now: a step of 0.52 mm in cushion, 42 bar in peak pressure or 0.028 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,7.23751124321259098337e-01,2.3,'{"stage":"waited","visible":[{"channel":"cushion","size":0.5192830254694828},{"channel":"peak_pressure","size":42.132931745945086},{"channel":"fill_time","size":0.027961529623892426}]}',NULL,NULL);
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
