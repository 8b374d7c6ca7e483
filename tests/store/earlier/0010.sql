-- schema 0010: 75 transactions, last digest dd1314c5b895ffa6350858aca87bdf9226839d3ac899504fa6e82c75abf717bc
BEGIN TRANSACTION;
CREATE TABLE account_changes (
	id INTEGER NOT NULL, 
	account TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	role TEXT NOT NULL, 
	change TEXT NOT NULL, 
	"by" TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id)
);
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0010');
CREATE TABLE anchors (
	id INTEGER NOT NULL, 
	place TEXT NOT NULL, 
	links BIGINT NOT NULL, 
	digest TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id)
);
CREATE TABLE archives (
	id INTEGER NOT NULL, 
	trial_id INTEGER NOT NULL, 
	file TEXT NOT NULL, 
	file_digest TEXT NOT NULL, 
	first_link BIGINT NOT NULL, 
	last_link BIGINT NOT NULL, 
	links BIGINT NOT NULL, 
	rows BIGINT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(trial_id) REFERENCES trials (id)
);
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
INSERT INTO "baths" VALUES(1,'tank',0.9,1.1,38.0,42.0,'2026-11-28T21:54:27.671783Z','KB','2026-11-28T21:54:27.671783Z');
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
CREATE TABLE clock_steps (
	id INTEGER NOT NULL, 
	step_s DOUBLE NOT NULL, 
	detail TEXT NOT NULL, 
	time TEXT NOT NULL, 
	at_least BOOLEAN NOT NULL, 
	newest_shot BIGINT NOT NULL, 
	newest_weighing BIGINT NOT NULL, 
	newest_link BIGINT NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "clock_steps" VALUES(1,-3600.0,'clock set back','2026-01-05T06:27:00.000000Z',0,24,0,1);
CREATE TABLE corrections (
	id INTEGER NOT NULL, 
	entry TEXT NOT NULL, 
	entry_id BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, initials TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (entry, entry_id)
);
INSERT INTO "corrections" VALUES(1,'events',3,'mistyped','2026-11-28T21:54:33.341193Z','KB');
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-28T21:54:10.081957Z');
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
INSERT INTO "dispositions" VALUES(1,1,21,21,1,'scrapped','flash','KB','2026-11-28T21:54:30.652279Z');
INSERT INTO "dispositions" VALUES(2,1,12,13,1,'held','','KB','2026-11-28T21:54:31.268760Z');
INSERT INTO "dispositions" VALUES(3,1,24,24,1,'held','','KB','2026-11-28T21:54:31.894809Z');
INSERT INTO "dispositions" VALUES(4,1,24,24,1,'released','looked at','KB','2026-11-28T21:54:32.533818Z');
CREATE TABLE events (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	at_shot BIGINT NOT NULL, 
	kind TEXT NOT NULL, 
	text TEXT NOT NULL, 
	time TEXT NOT NULL, half TEXT, initials TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "events" VALUES(1,1,22,'finding','flash','2026-11-28T21:54:11.707773Z',NULL,'KB');
INSERT INTO "events" VALUES(2,1,25,'lot','L2','2026-11-28T21:54:13.332538Z',NULL,'KB');
INSERT INTO "events" VALUES(3,1,26,'lot','L3','2026-11-28T21:54:15.354500Z',NULL,'KB');
CREATE TABLE faults (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT, 
	kind TEXT NOT NULL, 
	detail TEXT NOT NULL, 
	raw BLOB NOT NULL, 
	time TEXT NOT NULL, more BIGINT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "faults" VALUES(1,1,NULL,'torn','values changed while they were read',X'0102','2026-01-05T06:08:00.000000Z',3);
CREATE TABLE gaps (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, least BIGINT, most BIGINT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "gaps" VALUES(1,1,11,12,'counter went on from 10 to 13','2026-01-05T06:11:00.000000Z',1,2);
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
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-28T21:54:10.081957Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-28T21:54:10.088797Z');
INSERT INTO "inserts" VALUES(3,'B-12',1,'','2026-11-28T21:54:10.825912Z');
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
INSERT INTO "inspections" VALUES(1,1,5,1,'part_weight',12.2,NULL,NULL,'g','12.2 g','','','','2026-11-28T21:54:29.446262Z','KB','2026-11-28T21:54:29.446262Z');
INSERT INTO "inspections" VALUES(2,1,22,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-28T21:54:30.025943Z','KB','2026-11-28T21:54:30.025943Z');
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
INSERT INTO "judgings" VALUES(1,1,0,'7659284685c39029','first judging','2026-11-28T21:54:10.102377Z');
INSERT INTO "judgings" VALUES(2,1,22,'7659284685c39029','finding at shot 22, entered after shot 26','2026-11-28T21:54:11.707773Z');
INSERT INTO "judgings" VALUES(3,1,25,'7659284685c39029','lot at shot 25, entered after shot 26','2026-11-28T21:54:13.332538Z');
INSERT INTO "judgings" VALUES(4,1,26,'7659284685c39029','lot at shot 26, entered after shot 26','2026-11-28T21:54:15.354500Z');
INSERT INTO "judgings" VALUES(5,1,26,'7659284685c39029','entry taken back: mistyped, entered after shot 26','2026-11-28T21:54:33.341193Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'starts:1 logs:1','0c2bdc6171aee4fdb04deb8d827e1d9f5dd37b5ddacc2d8489ed6fb7c6f3fdeb',NULL);
INSERT INTO "ledger" VALUES(2,'presses:1 designs:1 inserts:1 mountings:1','c381db2a993dcee0ed3b9466ccd0733a4483b815397e5549e31560f659a7834a',NULL);
INSERT INTO "ledger" VALUES(3,'inserts:2 mountings:2','c4afb1a5f5d7c104fcca2d3c1f29a15c3e67b8463644219a3bf85af29c05c0d9',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1','bdc0981ef16c8656dd28324305a1d9b2f6af6b8c4baf18cd546c0be769d42fbe',NULL);
INSERT INTO "ledger" VALUES(5,'judgings:1 verdicts:1','61dd59be7ae1976d32206c7d8966aba479a0b1d17d19da89bfdb758d4a80698b',NULL);
INSERT INTO "ledger" VALUES(6,'shots:2','cd5c2c7c078611b9558ba13072ab793cac6052dbd067363ca9083fad85003901',NULL);
INSERT INTO "ledger" VALUES(7,'verdicts:2','c12a2b80a76a95334135ba856695bdb6eced525e6f521bd000edfddb6e23782b',NULL);
INSERT INTO "ledger" VALUES(8,'shots:3','48ee781ffdedfd145a007418ebcc23f28b759afcd52c185b816803251ddab2a8',NULL);
INSERT INTO "ledger" VALUES(9,'verdicts:3','749036bb2645fb01dc353e66dd2bef975b22bc8858fa6f9fd1089c12851a9386',NULL);
INSERT INTO "ledger" VALUES(10,'shots:4','807da008591f7a2437cb1de5c6d20053001075e88e4cf90b2ba444e8098ca884',NULL);
INSERT INTO "ledger" VALUES(11,'verdicts:4','5529456b5684420eee1147f5b6a74919f304149f97c0ffd52df69b3113e76530',NULL);
INSERT INTO "ledger" VALUES(12,'shots:5','c19fc774c429f93527162317c8c1093ad299506d0a002a074198e039ecf99aff',NULL);
INSERT INTO "ledger" VALUES(13,'verdicts:5','a3e59f840d3e4d36716a1987477a111897e4b64dc70fafbc52ea1059a644b4f7',NULL);
INSERT INTO "ledger" VALUES(14,'shots:6','558ad67fe055566aa2b6ac1b66438bb449dc6b0b413a60442f28ff505f085dcd',NULL);
INSERT INTO "ledger" VALUES(15,'verdicts:6','454be1e639a89764a173136119b41702afaa6b6beec0a0307e93d72d45103da8',NULL);
INSERT INTO "ledger" VALUES(16,'shots:7','02066dccdf046b4a86310cf93dae12c259ab59765b73b48b8a413e64e8e0beac',NULL);
INSERT INTO "ledger" VALUES(17,'verdicts:7','26bc78f7e92f2bebb0ac0d2260e46a88eff3fb431849f3da794b7ad316b9f62c',NULL);
INSERT INTO "ledger" VALUES(18,'faults:1','385400c234d67a178baed5cfa62087578cbcebe9afe490bedeb35a2593a4bb62',NULL);
INSERT INTO "ledger" VALUES(19,'shots:8','fdda29b4d37292a1880ba706183f071c1a7b818301e1ef6ca289144728254416',NULL);
INSERT INTO "ledger" VALUES(20,'verdicts:8','cf5f232f41b102ac12dcc063ab2715197724c3b15cba0caffaf287d5357bb971',NULL);
INSERT INTO "ledger" VALUES(21,'shots:9','c43b5296c05efaee5c2c2921e17c06105d3efd8a3cb4c513f6c7bb4dd65f1e60',NULL);
INSERT INTO "ledger" VALUES(22,'baselines:1 baselines:2 baselines:3 verdicts:9','f445acb70cc2ac20fc560ec384df9c20f9a329f887abb7be6498f84983f5784d',NULL);
INSERT INTO "ledger" VALUES(23,'shots:10','cde95ac3a0bba9ff751837b6de39163d929c8917fb89a883427a4f8f71d30ecc',NULL);
INSERT INTO "ledger" VALUES(24,'verdicts:10','4ccbb64602b650e2b986b5580d73c067a1b6ffa5e63fcd20d620a0f4ecd31967',NULL);
INSERT INTO "ledger" VALUES(25,'gaps:1','a46a3cf5911be866ae00a1cba41d1ac2706b1e952978b4b7196dc10ba6e68ddc',NULL);
INSERT INTO "ledger" VALUES(26,'shots:11','e00e9ce36bf05a8f0dcef8e53e4a088b0016ef04655c639b3317d7c54e10f5bb',NULL);
INSERT INTO "ledger" VALUES(27,'verdicts:11','cd8c6f3f18d55b27222790740f5ae0cfe5bcbd376e5848e925367d209d946ff0',NULL);
INSERT INTO "ledger" VALUES(28,'shots:12','f9dffecb832e9d219f226a152ce61becae987063cfe8d90ad47482ae5560eb48',NULL);
INSERT INTO "ledger" VALUES(29,'verdicts:12','43db4206dc74a94dd2f18d44152561f3e742c598bed81706c4b48eaf637936ae',NULL);
INSERT INTO "ledger" VALUES(30,'shots:13','3e678ee7eb5f826aabe75ddd19b9233b47a1c44cd97f7f2f55d799e39496f0da',NULL);
INSERT INTO "ledger" VALUES(31,'signals:1 verdicts:13','40d9a2bddd90ab4266ada98a426f80a5b4a74b4eb56eaa59093d39f9eadc2a48',NULL);
INSERT INTO "ledger" VALUES(32,'shots:14','b54fa7a52921f85907a22ab7c9bcfef57ffe9864f6a26d87582442b55a8664cb',NULL);
INSERT INTO "ledger" VALUES(33,'signals:2 verdicts:14','4e4abab2225f80b0264109de20ba9cb1f7b8c657212292f57b3a3084e849edda',NULL);
INSERT INTO "ledger" VALUES(34,'shots:15','928b54b0f749f62068941cfdbfe27727c0c27e7291c4834578eb150c567f6187',NULL);
INSERT INTO "ledger" VALUES(35,'signals:3 signals:4 verdicts:15','626fc05936bbbd840a9bdb7fcb20fcc7571b652811f202a826055a3d140ab2ee',NULL);
INSERT INTO "ledger" VALUES(36,'shots:16','511eea40070fd87d1d395e25713083aaedb7472a862d75e9b568b8af541b3fd8',NULL);
INSERT INTO "ledger" VALUES(37,'signals:5 signals:6 verdicts:16','f9f9708ec2600d41828bf85ea133b298fbb000149b691ec078bcd03c07a9c6c2',NULL);
INSERT INTO "ledger" VALUES(38,'shots:17','6c1939b746e015b0f974f3c18a19484455ea0d9acaabca4323c915a144d459c3',NULL);
INSERT INTO "ledger" VALUES(39,'signals:7 signals:8 verdicts:17','c05e357d202d299665625c6cfcdbe39bb8eed5ee66ae12801006f4e9da9071ff',NULL);
INSERT INTO "ledger" VALUES(40,'shots:18','42bed3a6638a6cc4665f22266c86af0f57c058f5265edf379e71965a71694b7c',NULL);
INSERT INTO "ledger" VALUES(41,'signals:9 signals:10 verdicts:18','52eae2a30e9b22d5dcd8113dfdbba19dccabc881eba9d56c54c4e90c4f9e2f17',NULL);
INSERT INTO "ledger" VALUES(42,'shots:19','46dc2e7b0aad5727aeaea81cb138871bb05bfd332b5d330b04cdbfe2aa5ac6b9',NULL);
INSERT INTO "ledger" VALUES(43,'signals:11 signals:12 verdicts:19','784f02827171c0ca91e285c85f1d0c3b6efff3ea3757fc77db0db87bc8cd6e5f',NULL);
INSERT INTO "ledger" VALUES(44,'shots:20','297e1f4012f350b2616322d00826b6cb5ee81bace2a9a58bc8623062aa74177a',NULL);
INSERT INTO "ledger" VALUES(45,'signals:13 signals:14 verdicts:20','e3ba7e615217205fbddba09cc73a0d9446fe0e24a56c24687e76cf645a846e6c',NULL);
INSERT INTO "ledger" VALUES(46,'removals:1','9da16a0f5d2b8cde611131e41ffa2f21593b9d5ed299295132b3de5df13d5200',NULL);
INSERT INTO "ledger" VALUES(47,'inserts:3 mountings:3','ef19bb5edd07646492d1a5be1c3c13520e3738c62e7860251767a54c3c9c0ffe',NULL);
INSERT INTO "ledger" VALUES(48,'shots:21','95037c26662c69ab8f216efd21fd5892a5ac7a36277bdf7bc103e258be6a8939',NULL);
INSERT INTO "ledger" VALUES(49,'verdicts:21','02fda3fd23898b1eddad5828c19ec3eca7f3be2e7b768d3cef91562d3b65ed30',NULL);
INSERT INTO "ledger" VALUES(50,'shots:22','4ff345c9d3d203c7f9331f1e6910c39ec8ed81da12d7fa9b2b97434dd5d5fea3',NULL);
INSERT INTO "ledger" VALUES(51,'verdicts:22','e91da00e6bdebdbc889efbd07b82b0ac755fcb9b956e744e7adbed7ff13ac119',NULL);
INSERT INTO "ledger" VALUES(52,'shots:23','0882bc964f2291161443f6479eeb838eebe8753a655253e8857651c6503e839e',NULL);
INSERT INTO "ledger" VALUES(53,'verdicts:23','e4d513fc1d4156b468da98ffd26b94a71ef02e506dd61bcb814bf8df0908ee03',NULL);
INSERT INTO "ledger" VALUES(54,'shots:24','c3ba04a01ef092d9d09c6c5112dd5b194e2c2fca0b5fe702a1e262935438be13',NULL);
INSERT INTO "ledger" VALUES(55,'verdicts:24','3ae82bb0e15503d4d5543432a5d3458f6b44d3b7e5188077097278840a767122',NULL);
INSERT INTO "ledger" VALUES(56,'links:1','50004984f11b65e234e7c8b9e7974fec960c1cb6d9e460a47dd0a581b7a0560c',NULL);
INSERT INTO "ledger" VALUES(57,'clock_steps:1 weighings:1','97bfcb03b522b6f4bfe413cc64d72d833cc30ffcc559eab061c37d5909918a54',NULL);
INSERT INTO "ledger" VALUES(58,'events:1 judgings:2 signed:1','9385b93865284b8d58788db4973ed1f70b16f269546bcd2a661155ebea204aef',NULL);
INSERT INTO "ledger" VALUES(59,'signals:15 signals:16 verdicts:25 verdicts:26 verdicts:27 verdicts:28 verdicts:29','0ae83cded161458cfe6b379cfaba7ed13dc45a4afce6de43061a4e4abb483944',NULL);
INSERT INTO "ledger" VALUES(60,'events:2 judgings:3 signed:2','a4da44eabe458fe5fbd0c216fc6d8bcb50937488e16ace33fc78da236b89a1df',NULL);
INSERT INTO "ledger" VALUES(61,'verdicts:30 verdicts:31','27fdb828b40516e39c5c8300a22b5f89bf82f6a62e7f516cf1ac28370d22963d',NULL);
INSERT INTO "ledger" VALUES(62,'events:3 judgings:4 signed:3','045be8d9edb123be8a63529e2e0e3587aa453f837c3995a7ca2e6ddb28aac274',NULL);
INSERT INTO "ledger" VALUES(63,'verdicts:32','fbdf288d20012832733a6132dddd68c715f1b38902e48adf9b8483d02ae566b1',NULL);
INSERT INTO "ledger" VALUES(64,'baths:1 signed:4','382f729a4b82869c5191773ef3d03e894350999c5ef30813334f453509023f12',NULL);
INSERT INTO "ledger" VALUES(65,'soaks:1 soaks:2 signed:5 signed:6','1bb608fee14a561c7f5480c072b4c9facb6eebc5009c53b6d0cfa1724a9b82d7',NULL);
INSERT INTO "ledger" VALUES(66,'soak_ends:1 signed:7','74627df0483787ba2fb34752148150b021ff4f889f16fe9838b0ef1c53d8024e',NULL);
INSERT INTO "ledger" VALUES(67,'inspections:1 signed:8','1c78d65b5365d31155f98c31cc72c329baf22be7fb76ea509e90791d37f59ca0',NULL);
INSERT INTO "ledger" VALUES(68,'inspections:2 signed:9','b118eec8f8cc385d603813953f35a85c3e4bd21fc4286dbe9a76615f5942d3b9',NULL);
INSERT INTO "ledger" VALUES(69,'dispositions:1 signed:10','788ca5010fda966c200a0069e67964046ce2681c42326f0f7a3bb7b15b7bf760',NULL);
INSERT INTO "ledger" VALUES(70,'dispositions:2 signed:11','123de0f37ca3dd01b8fb918428809c7041ee001dff9db041b07da895017feda2',NULL);
INSERT INTO "ledger" VALUES(71,'dispositions:3 signed:12','7a313a7e264b9cae7f2039ddda5cde8bacaece729a82f10fce7f3d61ef344d26',NULL);
INSERT INTO "ledger" VALUES(72,'dispositions:4 signed:13','87a8c0b3ff1a26398dabed1bfd9a4df61d29e216d86f13dfc6b64d274cedb77a',NULL);
INSERT INTO "ledger" VALUES(73,'corrections:1 judgings:5 signed:14','e1ff9b4d2aee1aba518a6db21558a5791cff40780143ec3f7c2ee0e874dd35f3',NULL);
INSERT INTO "ledger" VALUES(74,'verdicts:33','470aed36ab25c2e9b15d8131aa13df38b28da3d6c41210f8d9b57f9c16577af6',NULL);
INSERT INTO "ledger" VALUES(75,'removals:2 signed:15','dd1314c5b895ffa6350858aca87bdf9226839d3ac899504fa6e82c75abf717bc',NULL);
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
CREATE TABLE logs (
	id INTEGER NOT NULL, 
	uid TEXT NOT NULL, 
	follows TEXT, 
	follows_digest TEXT, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (uid)
);
INSERT INTO "logs" VALUES(1,'16e36bbfc2f64157886ad143af59dc6e',NULL,NULL,'first written by a release that tells logs apart','2026-11-28T21:54:10.080720Z');
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
	time TEXT NOT NULL, initials TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "mountings" VALUES(1,1,1,'moving',0,0,'2026-11-28T21:54:10.081957Z',NULL);
INSERT INTO "mountings" VALUES(2,1,2,'fixed',0,0,'2026-11-28T21:54:10.088797Z',NULL);
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-28T21:54:10.825912Z','KB');
CREATE TABLE pictures (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT, 
	cavity BIGINT, 
	insert_id INTEGER, 
	event_id INTEGER, 
	digest TEXT NOT NULL, 
	media TEXT NOT NULL, 
	bytes BIGINT NOT NULL, 
	remark TEXT NOT NULL, 
	taken TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(event_id) REFERENCES events (id)
);
CREATE TABLE places (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	cavity BIGINT, 
	place TEXT NOT NULL, 
	put TEXT NOT NULL, 
	due TEXT, 
	newest_soak BIGINT NOT NULL, 
	newest_soak_end BIGINT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
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
INSERT INTO "presses" VALUES(1,'P25','2026-11-28T21:54:10.081957Z');
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
	time TEXT NOT NULL, initials TEXT, newest_mounting BIGINT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "removals" VALUES(1,1,1,23,'flash at the gate','2026-11-28T21:54:10.821847Z',NULL,2);
INSERT INTO "removals" VALUES(2,1,2,27,'end of trial','2026-11-28T21:54:35.236661Z','KB',3);
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
INSERT INTO "shots" VALUES(1,1,1,1,'2026-01-05T06:01:00.000000Z',NULL,5.0,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(2,1,2,2,'2026-01-05T06:02:00.000000Z',NULL,5.02,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(3,1,3,3,'2026-01-05T06:03:00.000000Z',NULL,4.99,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(4,1,4,4,'2026-01-05T06:04:00.000000Z',NULL,5.01,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(5,1,5,5,'2026-01-05T06:05:00.000000Z',NULL,4.98,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(6,1,6,6,'2026-01-05T06:06:00.000000Z',NULL,5.0,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(7,1,7,7,'2026-01-05T06:07:00.000000Z',NULL,5.02,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(8,1,8,8,'2026-01-05T06:08:00.000000Z',NULL,4.99,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(9,1,9,9,'2026-01-05T06:09:00.000000Z',NULL,5.01,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(10,1,10,10,'2026-01-05T06:10:00.000000Z',NULL,4.98,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(11,1,13,13,'2026-01-05T06:13:00.000000Z',NULL,4.99,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(12,1,14,14,'2026-01-05T06:14:00.000000Z',NULL,4.95,519.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(13,1,15,15,'2026-01-05T06:15:00.000000Z',NULL,4.86,516.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(14,1,16,16,'2026-01-05T06:16:00.000000Z',NULL,4.82,508.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(15,1,17,17,'2026-01-05T06:17:00.000000Z',NULL,4.78,505.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(16,1,18,18,'2026-01-05T06:18:00.000000Z',NULL,4.69,503.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(17,1,19,19,'2026-01-05T06:19:00.000000Z',NULL,4.65,500.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(18,1,20,20,'2026-01-05T06:20:00.000000Z',NULL,4.56,492.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(19,1,21,21,'2026-01-05T06:21:00.000000Z',NULL,4.52,489.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(20,1,22,22,'2026-01-05T06:22:00.000000Z',NULL,4.48,487.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(21,1,23,23,'2026-01-05T06:23:00.000000Z',NULL,4.99,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(22,1,24,24,'2026-01-05T06:24:00.000000Z',NULL,5.01,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(23,1,25,25,'2026-01-05T06:25:00.000000Z',NULL,4.98,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(24,1,26,26,'2026-01-05T06:26:00.000000Z',NULL,5.0,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
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
INSERT INTO "signals" VALUES(3,1,1,17,'individuals','cushion','below',4.78,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(4,1,1,17,'individuals','peak_pressure','below',505.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(5,1,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(6,1,1,18,'individuals','peak_pressure','below',503.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(7,1,1,19,'individuals','cushion','below',4.65,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(8,1,1,19,'individuals','peak_pressure','below',500.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(9,1,1,20,'individuals','cushion','below',4.56,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(10,1,1,20,'individuals','peak_pressure','below',492.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(11,1,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(12,1,1,21,'individuals','peak_pressure','below',489.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(13,1,1,22,'individuals','cushion','below',4.48,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(14,1,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(15,2,1,22,'individuals','cushion','below',4.48,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(16,2,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
CREATE TABLE signed (
	id INTEGER NOT NULL, 
	entry TEXT NOT NULL, 
	entry_id BIGINT NOT NULL, 
	account TEXT NOT NULL, 
	role TEXT NOT NULL, 
	via TEXT NOT NULL, 
	address TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (entry, entry_id)
);
INSERT INTO "signed" VALUES(1,'events',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(2,'events',2,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(3,'events',3,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(4,'baths',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(5,'soaks',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(6,'soaks',2,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(7,'soak_ends',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(8,'inspections',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(9,'inspections',2,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(10,'dispositions',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(11,'dispositions',2,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(12,'dispositions',3,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(13,'dispositions',4,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(14,'corrections',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(15,'removals',2,'','','command','root@vm','KB');
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
INSERT INTO "soak_ends" VALUES(1,1,'2026-11-28T21:54:28.887792Z',1,'','KB','2026-11-28T21:54:28.887792Z');
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
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-28T21:54:28.257401Z','2026-11-29T21:54:28.257401Z','KB','2026-11-28T21:54:28.257401Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-28T21:54:28.257401Z','2026-11-29T21:54:28.257401Z','KB','2026-11-28T21:54:28.257401Z');
CREATE TABLE starts (
	id INTEGER NOT NULL, 
	release TEXT NOT NULL, 
	basis TEXT NOT NULL, 
	config TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	maps TEXT NOT NULL, 
	host TEXT NOT NULL, 
	process TEXT NOT NULL, 
	time TEXT NOT NULL, 
	newest_shot BIGINT NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "starts" VALUES(1,'0.2.0','bdb9a0a83411d666','[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[design.cap-r2]
settling_shots = 3
baseline_shots = 6
  [design.cap-r2.limits]
  cushion = { low = 4.4 }
','0000000000000000000000000000000000000000000000000000000000000000','{}','press-pc','1','2026-01-05T06:00:00.000000Z',0);
CREATE TABLE trials (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	part TEXT NOT NULL, 
	resin TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id)
);
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
INSERT INTO "verdicts" VALUES(1,1,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(2,1,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(3,1,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(4,1,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 4 on it; what could be seen by now: a step of 0.86 mm in cushion, 120 bar in peak pressure or 0.304 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.8567555068164849},{"channel":"peak_pressure","size":119.89970070438673},{"channel":"fill_time","size":0.30362614123229176}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(5,1,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 5 on it; what could be seen by now: a step of 0.48 mm in cushion, 58 bar in peak pressure or 0.154 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.47897028169997913},{"channel":"peak_pressure","size":58.47350452731671},{"channel":"fill_time","size":0.15383608591190312}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(6,1,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 6 on it; what could be seen by now: a step of 0.31 mm in cushion, 42 bar in peak pressure or 0.099 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.3144643039459433},{"channel":"peak_pressure","size":41.698264740550144},{"channel":"fill_time","size":0.09876714588006051}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(7,1,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 7 on it; what could be seen by now: a step of 0.29 mm in cushion, 34 bar in peak pressure or 0.070 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.29202122557968746},{"channel":"peak_pressure","size":33.59427907927261},{"channel":"fill_time","size":0.06969168958413281}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(8,1,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 8 on it; what could be seen by now: a step of 0.22 mm in cushion, 30 bar in peak pressure or 0.052 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.2215112646703656},{"channel":"peak_pressure","size":29.820228478958473},{"channel":"fill_time","size":0.052030914316076676}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(9,1,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 9 on it; what could be seen by now: a step of 0.17 mm in cushion, 24 bar in peak pressure or 0.041 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.16951654471627195},{"channel":"peak_pressure","size":23.783443786327712},{"channel":"fill_time","size":0.040969914434306046}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(10,1,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 10 on it; what could be seen by now: a step of 0.16 mm in cushion, 20 bar in peak pressure or 0.034 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.15648683443938569},{"channel":"peak_pressure","size":20.449629781658384},{"channel":"fill_time","size":0.03411091880922406}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(11,1,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet, at shot 14 of the press at the earliest; shot 13 on it; what could be seen by now: a step of 0.15 mm in cushion, 18 bar in peak pressure or 0.030 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":14,"visible":[{"channel":"cushion","size":0.15044205910930453},{"channel":"peak_pressure","size":18.36291095905238},{"channel":"fill_time","size":0.029951815246898633}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(12,1,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11, moving half; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(13,1,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11, moving half; shot 15 was odd, look at that part and watch the next shot; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}],"odd_channel":"cushion","odd_by":-4.645556174906327}',NULL,NULL);
INSERT INTO "verdicts" VALUES(14,1,1,16,'B-11',16,0,'swap','cushion down 0.13 mm and peak pressure down 6.8 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11, moving half, or A-07, fixed half; parts may be bad from now on, more likely in about 35 shots; 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below','crack or breakage','insert',0.731561430669285,15,13,15,35.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.12993895381323983,"least":0.019516169517501104},{"channel":"peak_pressure","size":-6.765329809650268,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662543303480739,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(15,1,1,17,'B-11',17,0,'swap','cushion down 0.16 mm and peak pressure down 8.5 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11, moving half, or A-07, fixed half; parts may be bad from now on, more likely in about 34 shots; 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',0.731561430669285,15,13,15,34.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.15852589003382478,"least":0.019516169517501104},{"channel":"peak_pressure","size":-8.514523800678893,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662518253585762,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(16,1,1,18,'B-11',18,0,'swap','cushion down 0.24 mm and peak pressure down 15 bar since shot 14 (13 to 18): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 18 shots until parts are bad (13 to 24); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777118449e-01,14,13,18,18.0,13.0,24.0,1.25222762168596624121e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2432503683218574,"least":0.019516169517501104},{"channel":"peak_pressure","size":-15.233370511108665,"least":2.0005402415750657},{"channel":"fill_time","size":4.43349409638998e-06,"least":0.012}],"cause_weight":0.2574454275614307,"half":"moving","halves_alike":"A-07","bad_chance":0.048140557210315967,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(17,1,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 18 bar since shot 14 (13 to 19): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 17 shots until parts are bad (13 to 23); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777118449e-01,14,13,19,17.0,13.0,23.0,1.25222762168596624121e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2902759452192582,"least":0.019516169517501104},{"channel":"peak_pressure","size":-18.2072974282938,"least":2.0005402415750657},{"channel":"fill_time","size":4.43349409638998e-06,"least":0.012}],"cause_weight":0.2574454275614307,"half":"moving","halves_alike":"A-07","bad_chance":0.04810049662896411,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(18,1,1,20,'B-11',20,0,'swap','cushion down 0.37 mm and peak pressure down 23 bar since shot 14 (10 to 20): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 6 shots until parts are bad (4 to 10); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.7693846267549440121e-01,14,10,20,6.0,4.0,10.0,1.85155165383125464018e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.3721911339864793,"least":0.019516169517501104},{"channel":"peak_pressure","size":-23.163818475080763,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606907246e-07,"least":0.012}],"cause_weight":0.30411450834103076,"half":"moving","halves_alike":"A-07","bad_chance":0.008586168846567873,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(19,1,1,21,'B-11',21,0,'swap','cushion down 0.43 mm and peak pressure down 26 bar since shot 14 (10 to 21): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 5 shots until parts are bad (3 to 9); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.7693846267549440121e-01,14,10,21,5.0,3.0,9.0,1.85155165383125464018e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.42572709890272714,"least":0.019516169517501104},{"channel":"peak_pressure","size":-26.49458468949655,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606907246e-07,"least":0.012}],"cause_weight":0.30411450834103076,"half":"moving","halves_alike":"A-07","bad_chance":0.00854963808631921,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(20,1,1,22,'B-11',22,0,'swap','cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; about 3 shots until parts are bad (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.8336628885209038664e-01,14,5,22,3.0,2.0,4.0,2.21702103414882643059e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.4759708579196091,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125465,"least":2.0005402415750657},{"channel":"fill_time","size":3.8687746556096784e-07,"least":0.012}],"cause_weight":0.2894829419304182,"rival":"parting-line wear","rival_weight":0.2198938807509671,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255626,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(21,1,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.82815904636515313974e-01,14,5,23,10.0,7.0,15.0,2.20017702066360456561e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101392,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.56636368543026,"least":2.0005402415750657},{"channel":"fill_time","size":3.665625274353621e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.21615308089208796,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(22,1,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.78429710676231589872e-01,14,6,24,16.0,12.0,20.0,2.17464198434011564127e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873553,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.6375263259102267e-07,"least":0.012}],"cause_weight":0.29275112944702497,"rival":"parting-line wear","rival_weight":0.19728678367209349,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(23,1,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592597069684e-01,14,6,25,17.0,14.0,22.0,2.15123803390525694103e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250745,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625088,"least":2.0005402415750657},{"channel":"fill_time","size":3.0639607298815545e-07,"least":0.012}],"cause_weight":0.2942186507662853,"rival":"parting-line wear","rival_weight":0.18187793417544662,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.04369260743068,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(25,2,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; about 3 shots until parts are bad (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.8336628885209038664e-01,14,5,22,3.0,2.0,4.0,2.21702103414882643059e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.4759708579196091,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125465,"least":2.0005402415750657},{"channel":"fill_time","size":3.8687746556096784e-07,"least":0.012}],"cause_weight":0.2894829419304182,"rival":"parting-line wear","rival_weight":0.2198938807509671,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255626,"found":{"shot":22,"text":"flash","half":"","piece":""},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(26,2,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.82815904636515313974e-01,14,5,23,10.0,7.0,15.0,2.20017702066360456561e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101392,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.56636368543026,"least":2.0005402415750657},{"channel":"fill_time","size":3.665625274353621e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.21615308089208796,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(27,2,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.78429710676231589872e-01,14,6,24,16.0,12.0,20.0,2.17464198434011564127e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873553,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.6375263259102267e-07,"least":0.012}],"cause_weight":0.29275112944702497,"rival":"parting-line wear","rival_weight":0.19728678367209349,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(28,2,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592597069684e-01,14,6,25,17.0,14.0,22.0,2.15123803390525694103e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250745,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625088,"least":2.0005402415750657},{"channel":"fill_time","size":3.0639607298815545e-07,"least":0.012}],"cause_weight":0.2942186507662853,"rival":"parting-line wear","rival_weight":0.18187793417544662,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(29,2,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.04369260743068,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(30,3,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592597069684e-01,14,6,25,17.0,14.0,22.0,2.15123803390525694103e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250745,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625088,"least":2.0005402415750657},{"channel":"fill_time","size":3.0639607298815545e-07,"least":0.012}],"cause_weight":0.2942186507662853,"rival":"parting-line wear","rival_weight":0.18187793417544662,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(31,3,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.14012967720962610229e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(32,4,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.65000595950464079564e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(33,5,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.14012967720962610229e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
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
CREATE INDEX places_by_press ON places (press_id, id);
CREATE INDEX pictures_by_press ON pictures (press_id, shot);
COMMIT;
