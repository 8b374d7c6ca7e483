-- schema 0012: 81 transactions, last digest 499f2896bba763a1b2c664c193129860e1c7b6ae63f43269a7f293109792b457
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
CREATE TABLE acknowledgements (
	id INTEGER NOT NULL, 
	press_id INTEGER, 
	about TEXT NOT NULL, 
	spell TEXT NOT NULL, 
	time TEXT NOT NULL, 
	initials TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "acknowledgements" VALUES(1,1,'swap','swap P25 at 22','2026-11-29T03:35:51.143765Z','KB');
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0012');
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
INSERT INTO "bath_checks" VALUES(1,1,1.0,40.0,'2026-11-29T03:36:13.172800Z','KB','2026-11-29T03:36:13.172800Z');
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
INSERT INTO "baths" VALUES(1,'tank',0.9,1.1,38.0,42.0,'2026-11-29T03:36:11.284646Z','KB','2026-11-29T03:36:11.284646Z');
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
INSERT INTO "corrections" VALUES(1,'events',5,'mistyped','2026-11-29T03:36:37.246084Z','KB');
CREATE TABLE cursors (
	id INTEGER NOT NULL, 
	receiver TEXT NOT NULL, 
	position TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (receiver)
);
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-29T03:35:41.433465Z');
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
INSERT INTO "dispositions" VALUES(1,1,21,21,1,'scrapped','flash','KB','2026-11-29T03:36:23.033409Z');
INSERT INTO "dispositions" VALUES(2,1,14,15,1,'held','','KB','2026-11-29T03:36:25.097488Z');
INSERT INTO "dispositions" VALUES(3,1,24,24,1,'held','','KB','2026-11-29T03:36:26.858897Z');
INSERT INTO "dispositions" VALUES(4,1,24,24,1,'released','looked at','KB','2026-11-29T03:36:27.946277Z');
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
INSERT INTO "events" VALUES(1,1,24,'setup','holding pressure 380 -> 400 bar','2026-01-05T06:24:00.000000Z',NULL,NULL);
INSERT INTO "events" VALUES(2,1,26,'setup','mould temperature 38 -> 40 degC (by KB at the press)','2026-01-05T06:26:00.000000Z',NULL,NULL);
INSERT INTO "events" VALUES(3,1,22,'finding','flash','2026-11-29T03:35:52.801811Z',NULL,'KB');
INSERT INTO "events" VALUES(4,1,25,'lot','L2','2026-11-29T03:35:57.837107Z',NULL,'KB');
INSERT INTO "events" VALUES(5,1,26,'lot','L3','2026-11-29T03:36:03.537917Z',NULL,'KB');
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
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-29T03:35:41.433465Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-29T03:35:42.797012Z');
INSERT INTO "inserts" VALUES(3,'B-12',NULL,'','2026-11-29T03:35:46.470379Z');
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
INSERT INTO "inspections" VALUES(1,1,5,1,'part_weight',12.2,NULL,NULL,'g','12.2 g','','','','2026-11-29T03:36:19.357333Z','KB','2026-11-29T03:36:19.357333Z');
INSERT INTO "inspections" VALUES(2,1,22,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-29T03:36:21.198185Z','KB','2026-11-29T03:36:21.198185Z');
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
INSERT INTO "judgings" VALUES(1,1,0,'7659284685c39029','first judging','2026-11-29T03:35:43.190690Z');
INSERT INTO "judgings" VALUES(2,1,26,'7659284685c39029','setup at shot 26, entered after shot 26','2026-01-05T06:26:00.000000Z');
INSERT INTO "judgings" VALUES(3,1,22,'7659284685c39029','finding at shot 22, entered after shot 25','2026-11-29T03:35:52.801811Z');
INSERT INTO "judgings" VALUES(4,1,25,'7659284685c39029','lot at shot 25, entered after shot 26','2026-11-29T03:35:57.837107Z');
INSERT INTO "judgings" VALUES(5,1,26,'7659284685c39029','lot at shot 26, entered after shot 26','2026-11-29T03:36:03.537917Z');
INSERT INTO "judgings" VALUES(6,1,23,'7659284685c39029','making of B-12 said otherwise, entered after shot 26','2026-11-29T03:36:29.812915Z');
INSERT INTO "judgings" VALUES(7,1,26,'7659284685c39029','entry taken back: mistyped, entered after shot 26','2026-11-29T03:36:37.246084Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'presses:1 designs:1 inserts:1 mountings:1 signed:1 logs:1','eb91e41af8d851c26c3767db74e75df1b718b6a5e0206d59600ed7a43cd07b99',NULL);
INSERT INTO "ledger" VALUES(2,'inserts:2 mountings:2 signed:2','21d66440b58ec1a9569af854f91142561dd54cbc70c6f91b60d6cc5dc48329e5',NULL);
INSERT INTO "ledger" VALUES(3,'starts:1','70ae5f05a8d113e0bb78e7fb2acac732317b80196c8a9571f17b1f69fde48912',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1 set_points:1 set_points:2','d6f8e889bd2e75fc0351289d946774d246f91ffb215e5e214902ea838b2632c6','made 1');
INSERT INTO "ledger" VALUES(5,'judgings:1 verdicts:1','d677e511e4f3cfadbe0d17a10b12d7c96b8057d508515a9cf34a0bbfe3804147',NULL);
INSERT INTO "ledger" VALUES(6,'shots:2','cd84b208a8a521bd5e696bee57e4a906952a46be15127231eb661add7b3b7080','made 2');
INSERT INTO "ledger" VALUES(7,'verdicts:2','87931895b35b453d48aafc52eb5dc02caff72007b9d886cddd68aadc03ee2282',NULL);
INSERT INTO "ledger" VALUES(8,'shots:3','e9fd247ba57900009b21821377dff497d3fc38df60095520fc76dc8b4f27a93e','made 3');
INSERT INTO "ledger" VALUES(9,'verdicts:3','4833ce3bbd19e70dbad58817b3e313f2d84fa52bb62d539bc495578e0b476ea8',NULL);
INSERT INTO "ledger" VALUES(10,'shots:4','6a7121cd189689bc8e58cdf734455f5c3c40343c3f84b62670ac6c59538cfb9c','made 4');
INSERT INTO "ledger" VALUES(11,'verdicts:4','d304707e71e0dcf57862d439f0fb16c86925d67aab3844eede7bfc552e8514d6',NULL);
INSERT INTO "ledger" VALUES(12,'shots:5','a4f68313847a9eddbdc00ba41e90a649ed6e051dad57b0a63b44445b2a3368fe','made 5');
INSERT INTO "ledger" VALUES(13,'verdicts:5','8394e3d97e68a5ef3d454cd10af12821ce8f89a11b892a4490cedf78dd6f36ee',NULL);
INSERT INTO "ledger" VALUES(14,'shots:6','da37a6abe3951d98fb74f746999e9e6b14c2087e84221879521908108fdec873','made 6');
INSERT INTO "ledger" VALUES(15,'verdicts:6','bbfdec0d5c7cd7140a87d31a9d5abb6e4613d61a6554470f6bd5bb448e896c2e',NULL);
INSERT INTO "ledger" VALUES(16,'shots:7','023f5bac673dcf30a35e95f9192c38facf377466ffb7e81d04454567a853f037','made 7');
INSERT INTO "ledger" VALUES(17,'verdicts:7','a4556182ed0ad3237d001f08e5b608dabe42cfdb21dc56d333f1291fdf847a4c',NULL);
INSERT INTO "ledger" VALUES(18,'faults:1','cc53d550379c8436ed0f09861227a2fdbdbf560be62a913241aabe6e15589725',NULL);
INSERT INTO "ledger" VALUES(19,'shots:8','f8d6af647c750f7f2caa9f97a4ce529e81950388f3664594d8a2be4314e528ef','made 8');
INSERT INTO "ledger" VALUES(20,'verdicts:8','f60e091209bc795193785d9ea72097e743533d3bbf318cebea8807dfb7794e6b',NULL);
INSERT INTO "ledger" VALUES(21,'shots:9','65bf2d1420796c972c5f72984529745da971eaf3af6473eb85ab3ff3d02310ca','made 9');
INSERT INTO "ledger" VALUES(22,'baselines:1 baselines:2 baselines:3 verdicts:9','0449e3c6365f79b520f73ae8727b8e4a4c7611d18cc72009163c0b35a3b74ddc',NULL);
INSERT INTO "ledger" VALUES(23,'shots:10','2b0313b6a801a420a156447dab8c27fb36b27d76e84bf7444289a6ec183f87de','made 10');
INSERT INTO "ledger" VALUES(24,'verdicts:10','011df87fbd3fd9db4186d8cd1c2285f7d0485a2405f662cca4672c8b66b09c14',NULL);
INSERT INTO "ledger" VALUES(25,'gaps:1','8ebec31a00ba8959b94e2a1243e240cbb077cc6958d13737ed93b0dbef231a3b',NULL);
INSERT INTO "ledger" VALUES(26,'shots:11','60af45624d89f1766ea6590f7dcdc93ba22dae2e475aeeae5e8b07c77854ee07','made 13');
INSERT INTO "ledger" VALUES(27,'verdicts:11','2167959678204c3be58434d503cff4077edacead19d459a548b29e439aaab479',NULL);
INSERT INTO "ledger" VALUES(28,'shots:12','820ee5933050351c7e9bac2e682668b400238b834e30a0bd3f9291147e403550','made 14');
INSERT INTO "ledger" VALUES(29,'verdicts:12','edfd66166ce251cad117a1f6940906e84d09cbcec1e6eee31bd482b6b72ba9e4',NULL);
INSERT INTO "ledger" VALUES(30,'shots:13','d87c8f4809d4ea3f8381810ef6ca5f07e38c19d34b4d34ba87f58b9bf66517cb','made 15');
INSERT INTO "ledger" VALUES(31,'signals:1 verdicts:13','5f16c8a2bc6442ce22c9994280488b450d17cf686a28b579520234c96cae0c6f',NULL);
INSERT INTO "ledger" VALUES(32,'shots:14','131129ecf285972372035835305f470cebfb7935e9a4bb98b85a6e3be6aa8fb2','made 16');
INSERT INTO "ledger" VALUES(33,'signals:2 verdicts:14','f4e2ada40e0d368dd9700469393b97735b5204f3c0f65442625acf5289b54158',NULL);
INSERT INTO "ledger" VALUES(34,'shots:15','f14bd65dfd70a7371b3ebc9599b71689eaaa33fc7f0f92f1b43b0dc88e786401','made 17');
INSERT INTO "ledger" VALUES(35,'signals:3 signals:4 verdicts:15','2995c6eb8269e77ba5f0d049988431e2af97f034dc3237e63219ef89cdf11eaf',NULL);
INSERT INTO "ledger" VALUES(36,'shots:16','79012124d826416b25361f7bf198fc51741ce7b6bc082d367c1c3bd9eb1de3e3','made 18');
INSERT INTO "ledger" VALUES(37,'signals:5 signals:6 verdicts:16','a89a0c7317246841955fa092834ddd9fbb97a046c592d4a33f1fcadc8b2c3b53',NULL);
INSERT INTO "ledger" VALUES(38,'shots:17','0275278d8b53d185f051363a14cd5da336d0f7558a282741d6e731d7285a16d7','made 19');
INSERT INTO "ledger" VALUES(39,'signals:7 signals:8 verdicts:17','b3b2de8f9e6a37f499ea17e3be8f57387675902725e9f7ea0cb83366a937d948',NULL);
INSERT INTO "ledger" VALUES(40,'shots:18','5d939576bbb48c24951c1613f90b1c823cd15684a3432ba86d5f18ad7b724dea','made 20');
INSERT INTO "ledger" VALUES(41,'signals:9 signals:10 verdicts:18','e10d79e7ca2c4516cae7d0b9d55e3d3488449e23d3fc372417d9f30346ab647a',NULL);
INSERT INTO "ledger" VALUES(42,'shots:19','8f50e383cc614886dc69f65db9b76f55f0ba27f6097a31ddce3140cf0a6324f8','made 21');
INSERT INTO "ledger" VALUES(43,'signals:11 signals:12 verdicts:19','4945c7be5eff16d6304df343bfbdb60c91b5c6306c5e2dd2b5e5d06ee963c200',NULL);
INSERT INTO "ledger" VALUES(44,'shots:20','b00d41bd8aac060c6a6b97da2fa37dce0f9f3f024b8e82bdd8235625d3a1918c','made 22');
INSERT INTO "ledger" VALUES(45,'signals:13 signals:14 verdicts:20','4f60825c8a9fbdf3659e6c0aa4e1f150b288fc3228b20390f5e6757e32d88802',NULL);
INSERT INTO "ledger" VALUES(46,'removals:1 inserts:3 mountings:3 signed:3 signed:4','972a56e65fc153a98661f6b56f0828259edade957cb5665827c0a98e4223cdfa',NULL);
INSERT INTO "ledger" VALUES(47,'shots:21','b5c996254be88d37d300baed9af8755631d1d24e67b851c8721da06c82d4f265','made 23');
INSERT INTO "ledger" VALUES(48,'verdicts:21','74ae80ce3091c573d31802c5df5a1bbc9cc7260b5ebb234a78e8134d63e8220f',NULL);
INSERT INTO "ledger" VALUES(49,'shots:22 set_points:3 events:1','7c59ee2e66496f3a19d0f6afe6a36f55de1f3cfb69e1006f79a6c99f9fe1d3f1','made 24');
INSERT INTO "ledger" VALUES(50,'verdicts:22','d4a00370a5aa5d11258d96a661b217ebd58d3e111332631eabfe6a3d7321815e',NULL);
INSERT INTO "ledger" VALUES(51,'shots:23','c7edf7ed620bfa62436ac79f7d948dfda12e18ed592d3fee843f6dfd07dd0a2f','made 25');
INSERT INTO "ledger" VALUES(52,'verdicts:23','5a06911e2479c79b8d8a99ac561264679f6e4e322a93dd2bb603c3e6203cd95a',NULL);
INSERT INTO "ledger" VALUES(53,'shots:24','7fe0093ae073a7556f94c72d7802dc9efc72af0e7d1f414639ece80b0c1ea5ca','made 26');
INSERT INTO "ledger" VALUES(54,'verdicts:24','bd588e7cd573214ba68f41c2f1fa7dccdb987aa6a6c0f9a69333faa5197b3f0b',NULL);
INSERT INTO "ledger" VALUES(55,'set_points:4 events:2 judgings:2','c7cf28d15c8b121ea32fe533ffa55290c5d0a435ee779c7a5e7840aa76d53f85',NULL);
INSERT INTO "ledger" VALUES(56,'links:1','444c568cf8d6a2f728d0101cc290bcc9a2048c81a057d68fe5a8f4b254f94e21',NULL);
INSERT INTO "ledger" VALUES(57,'clock_steps:1 weighings:1','e642c6bdef3a2005d43b21f78699d98de90f470af80e40ad2c8ccec0a2ebeb1a',NULL);
INSERT INTO "ledger" VALUES(58,'told:1 told:2 told:3','7587ca6a31828aa6ef8543851d31ed5a8bfcec29411813821219c218a79df4b0',NULL);
INSERT INTO "ledger" VALUES(59,'acknowledgements:1 signed:5','36ad449aaa7998d5ac07f44c01ef067a731f95924f7a3b2099058b914808f999',NULL);
INSERT INTO "ledger" VALUES(60,'events:3 judgings:3 signed:6','2a991744727c4abd72e68c99395016d00b5d4418159e0bbada2db4cfad039560',NULL);
INSERT INTO "ledger" VALUES(61,'signals:15 signals:16 verdicts:25 verdicts:26 verdicts:27 verdicts:28 verdicts:29','335a79fda6f574fad93443b32110d32d9a49b2dc2da61b2c9f423851d19b4481',NULL);
INSERT INTO "ledger" VALUES(62,'events:4 judgings:4 signed:7','0dabe14e5e72f14a2146ed8591d0be747fcfe4c6ca168539e2bd614edf3608ed',NULL);
INSERT INTO "ledger" VALUES(63,'verdicts:30 verdicts:31','bcdbdf711b6c7e13c1f4584c84ace1e15f1cfebc5e546b63123446d826db806e',NULL);
INSERT INTO "ledger" VALUES(64,'events:5 judgings:5 signed:8','19629042b8a4fd8f8d198a821ed12c88e3e3c91387501c47abf53751e1ff5755',NULL);
INSERT INTO "ledger" VALUES(65,'verdicts:32','88c0fbed0a9fffb05b4b954255b84533f62ee4e504a25261d2875b161aab93d9',NULL);
INSERT INTO "ledger" VALUES(66,'baths:1 signed:9','929c0896577fed2b22c98738a32b8d48a0d56e4e19261d5bc6318e1c52dd0ace',NULL);
INSERT INTO "ledger" VALUES(67,'bath_checks:1 signed:10','3ebfb3777c68cd95760154e4af25df40f110aafc625335e1fd33680b892c9ac7',NULL);
INSERT INTO "ledger" VALUES(68,'soaks:1 soaks:2 signed:11 signed:12','214cc0c25de015e8783c76d7bbea11d618e8b6fa83c3da9f373375258e9e4faa',NULL);
INSERT INTO "ledger" VALUES(69,'soak_ends:1 signed:13','9bc91fec3dda0aabfdc7ae5ef7627c9048654b68fdf71ca7f7476ffc15ae3eba',NULL);
INSERT INTO "ledger" VALUES(70,'places:1 signed:14','24b88e05ea3bed67dc051aa6031bac5b8f77426cf5f6d7acce03f61365314aef',NULL);
INSERT INTO "ledger" VALUES(71,'inspections:1 signed:15','1b981cb09abfaf56356aa746b76c5b53ac6b1d94df8e70ac07a582f96db56d24',NULL);
INSERT INTO "ledger" VALUES(72,'inspections:2 signed:16','29d809b1064323dba7cc361bc7ab9ef9203cb942fdcc062d10e5f81a018fe701',NULL);
INSERT INTO "ledger" VALUES(73,'dispositions:1 signed:17','d52403da533e2b46071c208fccb3c2962ece76fccfc46454244df0676fcd24eb',NULL);
INSERT INTO "ledger" VALUES(74,'dispositions:2 signed:18','dc489074c05f6f9fb702c02aeedf40b3a53dd47428aaa6140617cd429d5d9d9c',NULL);
INSERT INTO "ledger" VALUES(75,'dispositions:3 signed:19','cc6b0b568fd5fad2d1d1cc85031c293173c018461b086b4094c9303be97ed6c7',NULL);
INSERT INTO "ledger" VALUES(76,'dispositions:4 signed:20','7a64c9313f9f8f1b999abcf47b09bc1da8e64a9250d2fdce9ffdd2446470ce21',NULL);
INSERT INTO "ledger" VALUES(77,'makings:1 judgings:6 signed:21','8f43d75470187c5f179199ac1fc55bc339d4ece71b1aa36ebe8f00dc6726cab7',NULL);
INSERT INTO "ledger" VALUES(78,'verdicts:33 verdicts:34 verdicts:35 verdicts:36','d10de5c05e7d93b9e682e5fc127599e91543582d2a59ebe8903d861d6bf54258',NULL);
INSERT INTO "ledger" VALUES(79,'corrections:1 judgings:7 signed:22','6e1367581db6352fb8f120b93f37488ce447c8ff590f2824b15c366b3e3e3b8a',NULL);
INSERT INTO "ledger" VALUES(80,'verdicts:37','2306c1ffe3de206971a649d26159134fe8993b8a58dae2106b64c9401e7727f9',NULL);
INSERT INTO "ledger" VALUES(81,'removals:2 signed:23','499f2896bba763a1b2c664c193129860e1c7b6ae63f43269a7f293109792b457',NULL);
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
INSERT INTO "logs" VALUES(1,'68a40627ffbf464aaa9ad2b014930de3',NULL,NULL,'first written by a release that tells logs apart','2026-11-29T03:35:41.449254Z');
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
INSERT INTO "makings" VALUES(1,3,NULL,'PL-2',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'KB','2026-11-29T03:36:29.812915Z');
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
INSERT INTO "mountings" VALUES(1,1,1,'moving',0,0,'2026-11-29T03:35:41.433465Z','KB');
INSERT INTO "mountings" VALUES(2,1,2,'fixed',0,0,'2026-11-29T03:35:42.797012Z','KB');
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-29T03:35:46.470379Z','KB');
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
INSERT INTO "places" VALUES(1,1,7,9,1,'box 3','2026-11-29T03:36:17.937039Z',NULL,2,1,'KB','2026-11-29T03:36:17.937039Z');
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
INSERT INTO "presses" VALUES(1,'P25','2026-11-29T03:35:41.433465Z');
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
INSERT INTO "removals" VALUES(1,1,1,23,'flash at the gate','2026-11-29T03:35:46.470379Z','KB',2);
INSERT INTO "removals" VALUES(2,1,2,27,'end of trial','2026-11-29T03:36:42.976842Z','KB',3);
CREATE TABLE set_points (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	name TEXT NOT NULL, 
	value TEXT NOT NULL, 
	unit TEXT NOT NULL, 
	old TEXT, 
	"by" TEXT NOT NULL, 
	time TEXT NOT NULL, 
	newest_start BIGINT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "set_points" VALUES(1,1,1,'holding pressure','380','bar',NULL,'','2026-01-05T06:01:00.000000Z',1);
INSERT INTO "set_points" VALUES(2,1,1,'program','cap-7','',NULL,'','2026-01-05T06:01:00.000000Z',1);
INSERT INTO "set_points" VALUES(3,1,24,'holding pressure','400','bar','380','','2026-01-05T06:24:00.000000Z',1);
INSERT INTO "set_points" VALUES(4,1,26,'mould temperature','40','degC','38','KB','2026-01-05T06:26:00.000000Z',1);
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
INSERT INTO "signals" VALUES(15,3,1,22,'individuals','cushion','below',4.48,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(16,3,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
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
INSERT INTO "signed" VALUES(1,'mountings',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(2,'mountings',2,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(3,'removals',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(4,'mountings',3,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(5,'acknowledgements',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(6,'events',3,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(7,'events',4,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(8,'events',5,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(9,'baths',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(10,'bath_checks',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(11,'soaks',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(12,'soaks',2,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(13,'soak_ends',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(14,'places',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(15,'inspections',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(16,'inspections',2,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(17,'dispositions',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(18,'dispositions',2,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(19,'dispositions',3,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(20,'dispositions',4,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(21,'makings',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(22,'corrections',1,'','','command','root@vm','KB');
INSERT INTO "signed" VALUES(23,'removals',2,'','','command','root@vm','KB');
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
INSERT INTO "soak_ends" VALUES(1,1,'2026-11-29T03:36:16.378612Z',1,'','KB','2026-11-29T03:36:16.378612Z');
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
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-29T03:36:14.640750Z','2026-11-30T03:36:14.640750Z','KB','2026-11-29T03:36:14.640750Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-29T03:36:14.640750Z','2026-11-30T03:36:14.640750Z','KB','2026-11-29T03:36:14.640750Z');
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
','0000000000000000000000000000000000000000000000000000000000000000','{}','bench','4711','2026-01-05T06:00:00.000000Z',0);
CREATE TABLE told (
	id INTEGER NOT NULL, 
	press_id INTEGER, 
	about TEXT NOT NULL, 
	spell TEXT NOT NULL, 
	phase TEXT NOT NULL, 
	receiver TEXT NOT NULL, 
	said TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "told" VALUES(1,1,'swap','swap P25 at 22','begins','','P25: swap B-11','2026-11-29T03:35:40.103493Z');
INSERT INTO "told" VALUES(2,1,'swap','swap P25 at 22','begins','mail','P25: swap B-11','2026-11-29T03:35:40.103493Z');
INSERT INTO "told" VALUES(3,NULL,'logger','logger at trial/1','begins','','the logger is silent','2026-11-29T03:35:40.103493Z');
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
INSERT INTO "verdicts" VALUES(21,1,1,23,'A-07',23,1,'watch','cushion down 0.51 mm and peak pressure down 31 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.8176933229449487861e-01,14,5,23,3.0,2.0,5.0,2.18650987064377879667e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5127216971242491,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.21333628987679,"least":2.0005402415750657},{"channel":"fill_time","size":3.634558356401458e-07,"least":0.012}],"cause_weight":0.28948449729091696,"rival":"parting-line wear","rival_weight":0.21197897143930855,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(22,1,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(23,1,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-12',4,1,'keep','settling: shot 4 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(25,3,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; about 3 shots until parts are bad (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.8336628885209038664e-01,14,5,22,3.0,2.0,4.0,2.21702103414882643059e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.4759708579196091,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125465,"least":2.0005402415750657},{"channel":"fill_time","size":3.8687746556096784e-07,"least":0.012}],"cause_weight":0.2894829419304182,"rival":"parting-line wear","rival_weight":0.2198938807509671,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255626,"found":{"shot":22,"text":"flash","half":"","piece":""},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(26,3,1,23,'A-07',23,1,'watch','cushion down 0.51 mm and peak pressure down 31 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.8176933229449487861e-01,14,5,23,3.0,2.0,5.0,2.18650987064377879667e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5127216971242491,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.21333628987679,"least":2.0005402415750657},{"channel":"fill_time","size":3.634558356401458e-07,"least":0.012}],"cause_weight":0.28948449729091696,"rival":"parting-line wear","rival_weight":0.21197897143930855,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(27,3,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(28,3,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(29,3,1,26,'B-12',4,1,'keep','settling: shot 4 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(30,4,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(31,4,1,26,'B-12',4,1,'keep','settling: shot 4 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(32,5,1,26,'B-12',4,1,'keep','settling: shot 4 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(33,6,1,23,'A-07',23,1,'watch','cushion down 0.51 mm and peak pressure down 31 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.8176933229449487861e-01,14,5,23,3.0,2.0,5.0,2.18650987064377879667e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5127216971242491,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.21333628987679,"least":2.0005402415750657},{"channel":"fill_time","size":3.634558356401458e-07,"least":0.012}],"cause_weight":0.28948449729091696,"rival":"parting-line wear","rival_weight":0.21197897143930855,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(34,6,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(35,6,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(36,6,1,26,'B-12',4,1,'keep','settling: shot 4 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(37,7,1,26,'B-12',4,1,'keep','settling: shot 4 on B-12, not judged before shot 33 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":33,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
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
CREATE INDEX set_points_by_press ON set_points (press_id, name, shot);
CREATE INDEX set_points_by_shot ON set_points (press_id, shot);
CREATE INDEX told_by_spell ON told (spell);
COMMIT;
