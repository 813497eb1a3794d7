package ferrule.app;

import ferrule.account.AccountPages;
import ferrule.account.CodePages;
import ferrule.account.HelpPages;
import ferrule.account.PasskeyPages;
import ferrule.account.TabletSetupPages;
import ferrule.atlas.AtlasPages;
import ferrule.atlas.Mentions;
import ferrule.audit.AuditPages;
import ferrule.audit.AuditStore;
import ferrule.audit.AuditTrail;
import ferrule.bench.AlongPages;
import ferrule.bench.AuthorityPages;
import ferrule.bench.AuthorityStore;
import ferrule.bench.Bench;
import ferrule.bench.BenchPages;
import ferrule.bench.BenchStore;
import ferrule.bench.BlindStore;
import ferrule.bench.DraftPages;
import ferrule.bench.FlowStore;
import ferrule.bench.GradeReceiver;
import ferrule.bench.GroupPages;
import ferrule.bench.InstrumentPages;
import ferrule.bench.PhotoPages;
import ferrule.bench.PhotoStore;
import ferrule.bench.QueuePages;
import ferrule.bench.QueueStore;
import ferrule.bench.RecordPages;
import ferrule.bench.RecordStore;
import ferrule.bench.SecondPages;
import ferrule.competency.Competencies;
import ferrule.competency.CompetencyPages;
import ferrule.competency.Desk;
import ferrule.competency.EditionPages;
import ferrule.competency.EditionStore;
import ferrule.competency.EquivalenceStore;
import ferrule.competency.EvidenceSource;
import ferrule.competency.HoursPages;
import ferrule.competency.HoursStore;
import ferrule.competency.NameScope;
import ferrule.competency.NamingStore;
import ferrule.competency.ProgressKeeper;
import ferrule.competency.ProgressStore;
import ferrule.device.DevicePages;
import ferrule.device.DeviceStore;
import ferrule.device.Reception;
import ferrule.dossier.DossierBook;
import ferrule.dossier.DossierPages;
import ferrule.dossier.LinkStore;
import ferrule.drill.ConfusionStore;
import ferrule.drill.DrillPages;
import ferrule.drill.DrillStore;
import ferrule.drill.LastNamedStore;
import ferrule.drill.PartNames;
import ferrule.drill.RulingStore;
import ferrule.drill.paper.PaperPages;
import ferrule.drill.paper.PaperStore;
import ferrule.glossary.ConceptId;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerPages;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.Proofs;
import ferrule.people.PeopleStore;
import ferrule.procedure.ProcedurePages;
import ferrule.report.CohortWeekStore;
import ferrule.report.ConfusionPages;
import ferrule.report.OverTimePages;
import ferrule.report.QuestionPages;
import ferrule.report.GraderPages;
import ferrule.report.PacePages;
import ferrule.report.ReportPages;
import ferrule.report.SummaryPages;
import ferrule.roster.EditionChoice;
import ferrule.roster.FirstDayPages;
import ferrule.roster.RosterFilePages;
import ferrule.report.SchoolTablePages;
import ferrule.report.bundle.BundleMaker;
import ferrule.report.bundle.BundlePages;
import ferrule.report.bundle.LongWorkStore;
import ferrule.report.bundle.LongWorker;
import ferrule.report.table.TablePages;
import ferrule.rights.ErasurePages;
import ferrule.rights.ErasureStore;
import ferrule.rights.PersonDataStore;
import ferrule.rights.PersonFile;
import ferrule.rights.RightsPages;
import ferrule.roster.RosterPages;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import ferrule.web.Hosted;
import ferrule.web.Pages;
import ferrule.web.Sites;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;

/** Everything of one site, put together: the curriculum, the stores over its tables, and the pages. */
final class Installation implements AutoCloseable {

  private static final int JUDGED_AT_A_TIME = 20;

  private final Books books;
  private final SiteStore sites;
  private final Site site;
  private final Database database;
  private final Clock clock;
  private final ZoneId zone;
  private final PeopleStore people;
  private final DrillStore drills;
  private final Bench bench;
  private final RecordStore records;
  private final LedgerStore ledger;
  private final HeadStore heads;
  private final AuditTrail trail;
  // one, because it remembers what it has read
  private final ProgressStore progress;
  private final DrillPages drillPages;
  private final AtomicReference<LongWorker> longWorker = new AtomicReference<>();
  // made when it is first needed: whoever opens an installation for one command keeps nothing
  private ProgressKeeper keeper;

  /**
   * Puts the first site together over an open database, which it closes in the end.
   *
   * @param signer of the log's heads
   * @param clock the time for everything in it
   * @param zone the school's zone, for due dates
   */
  Installation(Books books, Database database, HeadSigner signer, Clock clock, ZoneId zone) {
    this(books, new SiteStore(database, clock), new Site(Site.FIRST, ""), signer, clock, zone);
  }

  /** Puts one of these sites together; if it is the first, it closes the database in the end. */
  Installation(Books books, SiteStore sites, Site site, HeadSigner signer, Clock clock, ZoneId zone) {
    Database database = sites.open(site);
    this.books = books;
    this.sites = sites;
    this.site = site;
    this.database = database;
    this.clock = clock;
    this.zone = zone;
    this.people = new PeopleStore(database, clock);
    this.drills = new DrillStore(database);
    this.records = new RecordStore(database, clock);
    this.ledger = new LedgerStore(database);
    this.heads = new HeadStore(database, signer, clock);
    this.progress = new ProgressStore(database, books.edition(), zone.getId());
    this.trail = new AuditTrail(new AuditStore(database), clock);
    this.bench =
        new Bench(
            books.tasks(), new BenchStore(database, clock), records, new PhotoStore(database, clock),
            new QueueStore(database, clock), new BlindStore(database, clock), new AuthorityStore(database, clock),
            people, new Proofs(ledger, heads), zone);
    this.drillPages =
        new DrillPages(
            people, drills, new RulingStore(database), books.curriculum(), books.glossary(), books.studio(),
            books.work(), clock, zone);
  }

  Books books() {
    return books;
  }

  Database database() {
    return database;
  }

  PeopleStore people() {
    return people;
  }

  /** The time for everything in it. */
  Clock clock() {
    return clock;
  }

  /** The site as the server shows it. */
  Hosted hosted() {
    return new Hosted(site, people, pages(), new TrailKeeping(trail, clock));
  }

  /** Starts a server over this site alone. */
  WebServer serve(WebConfig config) {
    return WebServer.start(config, Sites.only(hosted()));
  }

  /** Who saw or changed what. */
  AuditTrail trail() {
    return trail;
  }

  /** The log. */
  LedgerStore ledger() {
    return ledger;
  }

  /** The log's signed heads. */
  HeadStore heads() {
    return heads;
  }

  /** The programme, evaluated over what is recorded here. */
  Competencies competencies() {
    EditionStore editions = editions();
    editions.keep(books.programme(), clock.instant());
    return new Competencies(books.programme(), editions, evidence(), progress);
  }

  private EvidenceSource evidence() {
    return new EvidenceSource(
        records, new NamingStore(database), new NameScope(List.of(books.glossary()), drillPages::askable), hours(),
        equivalences(), zone);
  }

  /** Judges anew who stands otherwise than is kept. */
  synchronized Rounds.Round progressRound() {
    if (keeper == null) {
      keeper = new ProgressKeeper(competencies(), evidence(), progress, clock);
    }
    return () -> keeper.round(JUDGED_AT_A_TIME) == JUDGED_AT_A_TIME;
  }

  /** Takes answers into what is known, and looks through those that an older program kept for the last ones. */
  Rounds.Round knownRound() {
    LastNamedStore last = new LastNamedStore(database);
    return () -> drills.known().takeSomeIn() | last.lookSomeThrough();
  }

  /** Time at the bench. */
  HoursStore hours() {
    return new HoursStore(database);
  }

  /** Prior learning. */
  EquivalenceStore equivalences() {
    return new EquivalenceStore(database, ledger);
  }

  /** Editions of the programme. */
  EditionStore editions() {
    return new EditionStore(database, ledger);
  }

  /** Makes accreditation bundles. */
  BundleMaker bundles() {
    return new BundleMaker(
        desk(), hours(), equivalences(), books.tasks(), ledger, heads, TablePages::pdf);
  }

  private DossierPages dossierPages() {
    return new DossierPages(
        new DossierBook(competencies(), ledger, new Proofs(ledger, heads), clock, zone),
        new LinkStore(database, clock), people, clock, zone);
  }

  /** Makes files of everything that is kept about a person. */
  PersonFile personFile() {
    return new PersonFile(new PersonDataStore(database), TablePages::pdf, dossierPages()::paper, clock);
  }

  /** Erases people. */
  ErasureStore erasures() {
    return new ErasureStore(database, ledger, clock);
  }

  /** Does long work at this node. */
  LongWorker longWorker() {
    return longWorker.updateAndGet(
        there -> there != null ? there : new LongWorker(new LongWorkStore(database, clock), bundles(), desk()));
  }

  private Desk desk() {
    return new Desk(competencies(), people, clock, zone);
  }

  private List<Pages> pages() {
    Desk desk = desk();
    DeviceStore devices = new DeviceStore(database, clock);
    Reception reception = new Reception(devices, List.of(new GradeReceiver(bench, devices), drillPages.answers()), clock);
    return List.of(
        new LedgerPages(new Proofs(ledger, heads), zone),
        new AccountPages(people, zone),
        new CodePages(people),
        new HelpPages(people, zone),
        new PasskeyPages(people, zone),
        new TabletSetupPages(people),
        new FirstDayPages(people, sites, site.name(), () -> drills.assignments().any()),
        new RosterPages(people, () -> editionChoices(desk), clock, zone),
        new RosterFilePages(people, clock, zone),
        drillPages,
        new PaperPages(
            people, drills, new PaperStore(database, drills), drillPages, books.glossary(), books.studio(),
            books.edition(), clock, zone),
        new AtlasPages(books.glossary(), books.reader(), books.studio(), books.edition(), this::proceduresOf),
        new ProcedurePages(books.procedures(), books.glossary()),
        new BenchPages(bench, devices),
        new DraftPages(bench, devices),
        new AlongPages(bench, devices, clock),
        new DevicePages(devices, reception, clock),
        new GroupPages(bench),
        new PhotoPages(bench),
        new QueuePages(bench),
        new RecordPages(bench),
        new SecondPages(bench),
        new InstrumentPages(bench),
        new AuthorityPages(bench),
        dossierPages(),
        new CompetencyPages(desk, equivalences(), hours()),
        new HoursPages(desk, hours()),
        new EditionPages(desk, editions()),
        new ReportPages(desk),
        new PacePages(desk),
        new SummaryPages(desk),
        new OverTimePages(desk, new FlowStore(database), new CohortWeekStore(database), books.edition()),
        new ConfusionPages(
            desk, new ConfusionStore(database), drills.assignments(), drillPages.pictures(), new PartNames(books.glossary())),
        new SchoolTablePages(desk, hours(), drills, new PartNames(books.glossary())),
        new AuditPages(trail, new AuditStore(database), people, clock, zone),
        new RightsPages(personFile(), people),
        new ErasurePages(erasures(), people, heads::current, clock, zone),
        new BundlePages(new LongWorkStore(database, clock), desk, zone),
        new GraderPages(bench.blind(), books.tasks(), new FlowStore(database), desk),
        new QuestionPages(drills, people, books.glossary(), clock));
  }

  /** The editions that a new cohort can begin with, that of the curriculum as it is now first. */
  private List<EditionChoice> editionChoices(Desk desk) {
    String current = books.programme().edition();
    return editions().all().stream()
        .sorted(Comparator.comparing(kept -> !kept.edition().equals(current)))
        .flatMap(kept -> desk.competencies().find(kept.edition()).stream().map(programme -> new EditionChoice(
            kept.edition(),
            (kept.edition().equals(current) ? "the present one" : "an older one") + ", "
                + programme.competencies().size() + " competencies, in use here since "
                + LocalDate.ofInstant(kept.keptAt(), zone) + " (" + kept.edition() + ")")))
        .toList();
  }

  private List<Mentions.Mention> proceduresOf(ConceptId part) {
    return books.procedures().touching(part).stream()
        .map(procedure -> new Mentions.Mention(procedure.title(), ProcedurePages.address(procedure)))
        .toList();
  }

  @Override
  public void close() {
    database.close();
  }
}
