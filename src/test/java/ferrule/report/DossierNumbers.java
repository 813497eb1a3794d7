package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.Grade;
import ferrule.competency.Competency;
import ferrule.ledger.ProofFile;
import ferrule.people.Person;
import ferrule.web.Browser;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.StringReader;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;

/** Every count, number and day of an apprentice's whole record, as whoever has a link to it reads it. */
final class DossierNumbers {

  private static final DateTimeFormatter MOMENT =
      DateTimeFormatter.ofPattern("d MMMM uuuu, HH:mm", Locale.ENGLISH).withZone(RandomHistory.ZONE);

  /** A line of the record: what it is about, how it stood, who signed it, and what is said of it by later ones. */
  private record Line(UUID about, String kind, String what, String detail, UUID by, Instant at, Optional<UUID> replaces) {}

  private final RandomHistory history;
  private final RawRecords raw;
  private final Browser apprentice;
  private final PlainPerson plain;

  /** For the apprentice who visits. */
  DossierNumbers(RandomHistory history, Person who, Browser apprentice) {
    this.history = history;
    raw = history.raw();
    this.apprentice = apprentice;
    plain = new PlainPerson(history, who, history.desk().now());
  }

  /**
   * Compares what somebody reads who has a link to it.
   *
   * @param onPaper also the paper, which takes longest to make
   */
  void areRight(Browser stranger, boolean onPaper) throws IOException {
    String link = link();
    Document page = Jsoup.parse(stranger.get(link).body());
    inAll(page);
    plain.programme().competencies().forEach(c -> competency(page, c));
    List<Long> numbers = records(page);
    ProofFile.Proven proven = assertInstanceOf(
        ProofFile.Proven.class,
        ProofFile.check(
            new BufferedReader(new StringReader(stranger.get(link + "/proof.jsonl").body())), Optional.empty(),
            Optional.empty()));
    assertEquals(numbers.size(), proven.records());
    assertEquals(inBook(), proven.heads().get(0).head().size());
    if (onPaper) {
      paper(stranger.getBytes(link + "/record.pdf"), numbers);
    }
  }

  private String link() {
    Map<String, String> fields =
        Map.of("csrf", apprentice.get("/my-links").hidden("csrf"), "purpose", "the harbour workshop", "days", "7");
    return Jsoup.parse(apprentice.post("/my-links", fields).body()).text().replaceFirst("(?s).*(/shared/[\\w-]{43}).*", "$1");
  }

  private String summary() {
    return plain.programme().title() + ": " + plain.complete().size() + " of "
        + plain.programme().competencies().size() + " competencies complete. As of "
        + MOMENT.format(history.clock().instant()) + ". Edition " + plain.programme().edition();
  }

  private void inAll(Document page) {
    assertEquals(summary(), page.select("main > p").get(1).text());
    Instant now = history.clock().instant();
    assertTrue(
        page.select("main > p.note").text().contains(
            "on " + MOMENT.format(now) + ". The link opens it until " + MOMENT.format(now.plusSeconds(7 * 24 * 3_600))),
        page.select("main > p.note").text());
    assertEquals(Long.toString(inBook()), page.select("dl.facts dd").first().text());
  }

  private long inBook() {
    return raw.signed.size() + raw.withdrawn.size() + raw.seconded.size() + raw.granted.size()
        + raw.grantsWithdrawn.size() + raw.moves.size() + raw.ruled.size()
        + raw.rulingsUndone.size();
  }

  private void competency(Document page, Competency c) {
    Element article = page.select("article").stream()
        .filter(a -> a.select("h3").text().equals(c.title())).findFirst().orElseThrow();
    assertEquals(plain.word(c), article.select(".tag").text(), article.text());
    List<String> evidence = new ArrayList<>(plain.works(c));
    evidence.addAll(plain.evidence(c));
    assertEquals(evidence, article.select("ul.evidence > li").eachText(), article.text());
  }

  // -- the signed records

  private Stream<Line> signed() {
    return raw.signed.stream().filter(s -> s.grade().apprentice().equals(plain.who().id())).map(s -> new Line(
        s.record(), s.corrects().isPresent() ? "Correction" : "Sign off", title(s.grade()),
        s.grade().tag() + ", " + s.grade().outcome().standing().word()
            + (s.corrects().isPresent() ? ". It was another instrument." : ""),
        s.by(), s.at(), s.corrects()));
  }

  private static String title(Grade grade) {
    return RandomHistory.TASKS.find(grade.task()).orElseThrow().title();
  }

  private boolean isTheirs(UUID record) {
    return raw.signed.stream()
        .anyMatch(s -> s.record().equals(record) && s.grade().apprentice().equals(plain.who().id()));
  }

  private Stream<Line> aboutSigned() {
    Stream<Line> withdrawn = raw.withdrawn.stream().filter(w -> isTheirs(w.record())).map(w -> new Line(
        UUID.randomUUID(), "Withdrawal", "", "It was not theirs.", w.by(), w.at(), Optional.of(w.record())));
    Stream<Line> seconded = raw.seconded.stream().filter(s -> isTheirs(s.record())).map(s -> new Line(
        UUID.randomUUID(), "Second signature", "", "", s.by(), s.at(), Optional.empty()));
    return Stream.concat(withdrawn, seconded);
  }

  private Stream<Line> priorLearning() {
    UUID magnus = history.coordinator().id();
    return raw.granted.stream().filter(g -> g.apprentice().equals(plain.who().id())).flatMap(g -> {
      String title = history.programmes().get(0).find(g.competency()).orElseThrow().title();
      Line granted =
          new Line(g.grant(), "Equivalence", title, "Seen at another bench.", magnus, g.at(), Optional.empty());
      return Stream.concat(Stream.of(granted), raw.grantsWithdrawn.stream().filter(w -> w.grant().equals(g.grant()))
          .map(w -> new Line(
              UUID.randomUUID(), "Equivalence withdrawal", title, "It was another person's.", magnus, w.at(), Optional.of(g.grant()))));
    });
  }

  private List<Line> lines() {
    return Stream.of(signed(), aboutSigned(), priorLearning()).flatMap(l -> l)
        .sorted(Comparator.comparing(Line::at)).toList();
  }

  private List<Long> records(Document page) {
    List<Line> lines = lines();
    List<Element> rows = page.select("table.records tbody tr");
    assertEquals(lines.size(), rows.size());
    List<Long> numbers = rows.stream().map(r -> Long.parseLong(r.select("td").first().text())).toList();
    for (int i = 0; i < rows.size(); i++) {
      List<String> cells = rows.get(i).select("td").eachText();
      Line line = lines.get(i);
      assertEquals(PlainPerson.day(line.at()), cells.get(1));
      String what = line.kind() + (line.what().isEmpty() ? "" : ": " + line.what()) + " " + line.detail();
      assertTrue(cells.get(2).startsWith(what.strip()), cells + " is not " + line);
      assertEquals(name(line.by()), cells.get(3));
      assertEquals(state(lines, line, numbers), cells.get(4), line.toString());
      assertEquals(numberInBook(line), numbers.get(i), line.toString());
    }
    return numbers;
  }

  private String name(UUID person) {
    return Stream.concat(history.instructors().stream(), Stream.of(history.coordinator()))
        .filter(p -> p.id().equals(person)).findFirst().orElseThrow().fullName();
  }

  private static String state(List<Line> lines, Line line, List<Long> numbers) {
    for (int i = 0; i < lines.size(); i++) {
      if (lines.get(i).replaces().filter(line.about()::equals).isPresent()) {
        return "replaced by " + numbers.get(i);
      }
    }
    return "counts";
  }

  /** One more than what was said before in the whole school. */
  private long numberInBook(Line line) {
    return 1 + Stream.of(
        raw.signed.stream().map(RawRecords.Signed::at), raw.withdrawn.stream().map(RawRecords.Withdrawn::at),
        raw.seconded.stream().map(RawRecords.Seconded::at), raw.granted.stream().map(RawRecords.Granted::at),
        raw.grantsWithdrawn.stream().map(RawRecords.GrantWithdrawn::at), raw.moves.stream().map(RawRecords.Moved::at),
        raw.ruled.stream().map(RawRecords.Ruled::at), raw.rulingsUndone.stream().map(RawRecords.RulingUndone::at))
        .flatMap(times -> times).filter(line.at()::isAfter).count();
  }

  /** The paper says the same, line by line, and has the proof of each record. */
  private void paper(byte[] pdf, List<Long> numbers) throws IOException {
    try (PDDocument paper = Loader.loadPDF(pdf)) {
      PDFTextStripper reader = new PDFTextStripper();
      reader.setSortByPosition(true);
      String text = reader.getText(paper).replaceAll("\\s+", " ");
      assertTrue(text.contains(summary()), () -> text.substring(0, 300));
      assertTrue(text.contains("book of " + inBook() + " records"));
      numbers.forEach(n -> assertTrue(text.contains("Record " + n + " Fingerprint"), "no proof of record " + n));
      // in the order in which it is set, cell after cell
      reader.setSortByPosition(false);
      standsInOrder(printed(numbers), reader.getText(paper));
    }
  }

  private List<String> printed(List<Long> numbers) {
    List<String> printed = new ArrayList<>();
    for (Competency c : plain.programme().competencies()) {
      List<String> evidence = new ArrayList<>(plain.works(c));
      evidence.addAll(plain.evidence(c));
      printed.add(c.title() + String.join("", evidence) + plain.word(c));
    }
    List<Line> lines = lines();
    for (int i = 0; i < lines.size(); i++) {
      Line line = lines.get(i);
      printed.add(
          numbers.get(i) + PlainPerson.day(line.at()) + line.kind() + (line.what().isEmpty() ? "" : ": " + line.what())
              + line.detail() + name(line.by()) + state(lines, line, numbers));
    }
    return printed;
  }

  private static void standsInOrder(List<String> printed, String paper) {
    String text = plainly(paper);
    int at = 0;
    for (String line : printed) {
      int found = text.indexOf(plainly(line), at);
      assertTrue(found >= 0, () -> "the paper has not in its place: " + line + "\nin " + text);
      at = found;
    }
  }

  private static String plainly(String text) {
    return text.replaceAll("[\\s\u2022]", "");
  }
}
