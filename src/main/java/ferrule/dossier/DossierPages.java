package ferrule.dossier;

import ferrule.ledger.SignedHead;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.OnlyOwn;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Paper;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** The whole record on paper and as a file, and the links by which an apprentice shows it. */
public final class DossierPages implements Pages {

  private static final List<Integer> DAYS = List.of(7, 30, 90);
  private static final int MOST_OPEN = 20;

  private final DossierBook dossiers;
  private final LinkStore links;
  private final PeopleStore people;
  private final Clock clock;
  private final DateTimeFormatter moment;

  /**
   * The pages.
   *
   * @param zone the school's, in which times are shown
   */
  public DossierPages(DossierBook dossiers, LinkStore links, PeopleStore people, Clock clock, ZoneId zone) {
    this.dossiers = dossiers;
    this.links = links;
    this.people = people;
    this.clock = clock;
    this.moment = DateTimeFormatter.ofPattern("d MMMM uuuu, HH:mm", Locale.ENGLISH).withZone(zone);
  }

  @Override
  public void routes(RoutesConfig routes) {
    OnlyOwn own = OnlyOwn.self(Role.APPRENTICE, "id");
    routes.get("/record/{id}/record.pdf", ctx -> sendPdf(ctx, apprentice(ctx)), Access.SIGNED_IN, own);
    routes.get("/record/{id}/proof.jsonl", ctx -> sendProof(ctx, apprentice(ctx)), Access.SIGNED_IN, own);
    routes.get("/my-links", ctx -> showLinks(ctx, ""), Access.APPRENTICE);
    routes.post("/my-links", this::makeLink, Access.APPRENTICE);
    routes.post("/my-links/{id}/revoke", this::revoke, Access.APPRENTICE, OnlyOwn.of(
        Role.APPRENTICE, "id", (me, id) -> Visit.uuid(id).filter(i -> links.isOf(me.id(), i)).isPresent()));
    routes.get("/shared/{token}", this::showShared, Access.ANYONE);
    routes.get("/shared/{token}/record.pdf", ctx -> sendPdf(ctx, shared(ctx)), Access.ANYONE);
    routes.get("/shared/{token}/proof.jsonl", ctx -> sendProof(ctx, shared(ctx)), Access.ANYONE);
  }

  private Person apprentice(Context ctx) {
    return people.person(Visit.id(ctx, "id"))
        .filter(p -> p.role() == Role.APPRENTICE)
        .orElseThrow(() -> Refusal.notFound("There is no such apprentice."));
  }

  private void sendPdf(Context ctx, Person apprentice) {
    Dossier dossier = dossiers.of(apprentice);
    Paper.Size size = Paper.Size.parse(Visit.queryText(ctx, "size").orElse(""));
    Paper.send(
        ctx, "dossier/paper", modelOf(dossier), size, dossier.at(), "record of " + apprentice.fullName());
  }

  /** A person's record as a PDF on A4; empty if they are no apprentice. */
  public Optional<byte[]> paper(Person person) {
    if (person.role() != Role.APPRENTICE) {
      return Optional.empty();
    }
    Dossier dossier = dossiers.of(person);
    return Optional.of(Paper.pdf("dossier/paper", modelOf(dossier), Paper.Size.A4, dossier.at()));
  }

  private void sendProof(Context ctx, Person apprentice) {
    ctx.contentType("application/jsonl; charset=utf-8");
    ctx.header(
        "Content-Disposition",
        "attachment; filename=\"" + Paper.plain("proof of the record of " + apprentice.fullName()) + ".jsonl\"");
    ctx.result(dossiers.of(apprentice).proofFile());
  }

  private Map<String, Object> modelOf(Dossier dossier) {
    SignedHead head = dossier.head();
    Map<String, Object> model = new HashMap<>();
    model.put("dossier", dossier);
    model.put("at", moment.format(dossier.at()));
    model.put("head", head);
    model.put("headAt", moment.format(head.at()));
    model.put("message", SignedHead.message(head.head(), head.at()));
    return model;
  }

  // --- links ---

  /** A link as a line of its apprentice's list. */
  record LinkRow(UUID id, String purpose, String made, String until, String state, String word, String opened) {}

  private LinkRow row(ShareLink link) {
    boolean open = link.isOpen(clock.instant());
    String word = open ? "open" : link.revokedAt().isPresent() ? "revoked" : "expired";
    String until = link.revokedAt().map(at -> "revoked on " + moment.format(at))
        .orElse((open ? "until " : "expired on ") + moment.format(link.expiresAt()));
    String opened = link.lastOpenedAt()
        .map(at -> "opened " + (link.timesOpened() == 1 ? "once" : link.timesOpened() + " times") + ", last on "
            + moment.format(at))
        .orElse("not opened yet");
    return new LinkRow(
        link.id(), link.purpose(), moment.format(link.madeAt()), until, open ? "good" : "idle", word, opened);
  }

  private void showLinks(Context ctx, String problem) {
    Map<String, Object> model = new HashMap<>();
    model.put("links", links.of(Visit.person(ctx).id()).stream().map(this::row).toList());
    model.put("days", DAYS);
    model.put("problem", problem);
    model.put("purpose", Visit.formText(ctx, "purpose").orElse(""));
    model.put("longest", ShareLink.LONGEST_PURPOSE);
    Page.show(ctx, "dossier/links", model);
  }

  private void makeLink(Context ctx) {
    Person apprentice = Visit.person(ctx);
    String purpose = Visit.formText(ctx, "purpose").orElse("");
    Optional<Integer> days =
        Visit.formText(ctx, "days").flatMap(text -> DAYS.stream().filter(d -> text.equals("" + d)).findFirst());
    Optional<String> problem = problem(apprentice, purpose, days);
    if (problem.isPresent()) {
      ctx.status(422);
      showLinks(ctx, problem.get());
      return;
    }
    Duration validFor = Duration.ofDays(days.orElseThrow());
    String token = links.make(apprentice.id(), purpose, validFor);
    Map<String, Object> model = new HashMap<>();
    model.put("purpose", purpose);
    model.put("link", Visit.address(ctx, "/shared/" + token));
    model.put("until", moment.format(clock.instant().plus(validFor)));
    Page.show(ctx, "dossier/link-made", model);
  }

  private Optional<String> problem(Person apprentice, String purpose, Optional<Integer> days) {
    if (purpose.isEmpty() || purpose.length() > ShareLink.LONGEST_PURPOSE) {
      return Optional.of("Say for whom the link is, in at most " + ShareLink.LONGEST_PURPOSE
          + " characters, so that you know later which one to revoke.");
    }
    if (days.isEmpty()) {
      return Optional.of("Choose how long the link opens your record.");
    }
    Instant now = clock.instant();
    long open = links.of(apprentice.id()).stream().filter(link -> link.isOpen(now)).count();
    return open < MOST_OPEN ? Optional.empty()
        : Optional.of("You have " + MOST_OPEN + " open links. Revoke one that is not needed any more first.");
  }

  private void revoke(Context ctx) {
    if (!links.revoke(Visit.person(ctx).id(), Visit.id(ctx, "id"))) {
      throw Refusal.conflict("That link is not yours, or it has been revoked already.");
    }
    Page.goTo(ctx, "/my-links", "Revoked. The link opens nothing any more.");
  }

  private ShareLink link(Context ctx) {
    // no machine that lists pages is to keep it, and no page that is opened from it is to learn its address
    ctx.header("X-Robots-Tag", "noindex, nofollow, noarchive");
    ctx.header("Referrer-Policy", "no-referrer");
    return links.find(ctx.pathParam("token")).orElseThrow(() -> Refusal.notFound(
        "This link has expired or was revoked, or its address is not complete. Ask the apprentice for a new one."));
  }

  private Person shared(Context ctx) {
    return people.person(link(ctx).person()).orElseThrow(() -> Refusal.notFound("There is no such record any more."));
  }

  private void showShared(Context ctx) {
    ShareLink link = link(ctx);
    Person apprentice = shared(ctx);
    Map<String, Object> model = modelOf(dossiers.of(apprentice));
    model.put("token", ctx.pathParam("token"));
    model.put("purpose", link.purpose());
    model.put("made", moment.format(link.madeAt()));
    model.put("until", moment.format(link.expiresAt()));
    links.opened(link);
    Page.show(ctx, "dossier/shared", model);
  }
}
