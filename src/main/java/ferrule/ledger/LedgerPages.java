package ferrule.ledger;

import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** The book: the log's signed head, the public key, earlier heads, and what all of that proves. It names nobody. */
public final class LedgerPages implements Pages {

  private static final int SHOWN = 50;

  private final Proofs proofs;
  private final DateTimeFormatter moment;

  /**
   * The pages.
   *
   * @param zone the school's, in which times are shown
   */
  public LedgerPages(Proofs proofs, ZoneId zone) {
    this.proofs = proofs;
    this.moment = DateTimeFormatter.ofPattern("d MMMM uuuu, HH:mm", Locale.ENGLISH).withZone(zone);
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("The book", "/book", 90, Access.COORDINATOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/book", this::show, Access.ANYONE);
    routes.get("/book/consistency.jsonl", this::consistency, Access.ANYONE);
  }

  /** A signed head, in words. */
  record HeadRow(long size, String root, String when, String signature, boolean first) {}

  private HeadRow row(SignedHead head, boolean first) {
    return new HeadRow(
        head.head().size(), head.head().root(), inWords(head.at()), head.signature(), first);
  }

  private String inWords(Instant at) {
    return moment.format(at);
  }

  private void show(Context ctx) {
    SignedHead now = proofs.head();
    List<SignedHead> heads = proofs.heads(SHOWN);
    Map<String, Object> model = new HashMap<>();
    model.put("now", row(now, false));
    model.put("message", SignedHead.message(now.head(), now.at()));
    model.put("key", proofs.key());
    model.put("earlier", heads.stream().filter(h -> h.head().size() < now.head().size())
        .map(h -> row(h, h.head().size() == 0)).toList());
    Page.show(ctx, "ledger/book", model);
  }

  private void consistency(Context ctx) {
    SignedHead first = head(ctx, "from");
    SignedHead second = head(ctx, "to");
    if (first.head().size() < 1 || first.head().size() > second.head().size()) {
      throw Refusal.invalid("Choose two heads, the earlier one first.");
    }
    ctx.contentType("application/jsonl; charset=utf-8");
    ctx.header("Content-Disposition", "attachment; filename=\"heads-" + first.head().size() + "-"
        + second.head().size() + ".jsonl\"");
    ctx.result(ProofFile.of(proofs.key(), first, second, proofs.prove(first, second)));
  }

  private SignedHead head(Context ctx, String parameter) {
    try {
      return Visit.queryText(ctx, parameter).map(Long::parseLong).flatMap(proofs::head)
          .orElseThrow(() -> Refusal.notFound("No head was signed at that number of records."));
    } catch (NumberFormatException e) {
      throw Refusal.invalid("A number of records is expected.");
    }
  }
}
