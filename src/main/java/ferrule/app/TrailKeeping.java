package ferrule.app;

import ferrule.audit.AuditTrail;
import ferrule.audit.Happening;
import ferrule.people.Person;
import ferrule.people.SignedIn;
import ferrule.web.Trail;
import ferrule.web.Visit;
import io.javalin.http.Context;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** Tells a site's trail of its requests. */
final class TrailKeeping implements Trail {

  private static final String BEGUN = "trail-begun";

  /** What was noted of a request before it was done. */
  private record Begun(Happening happening, List<Long> lines) {}

  private final AuditTrail trail;
  private final Clock clock;

  TrailKeeping(AuditTrail trail, Clock clock) {
    this.trail = trail;
    this.clock = clock;
  }

  @Override
  public void begins(Context ctx, String route) {
    Happening happening = happening(ctx, route, clock.instant());
    ctx.attribute(BEGUN, new Begun(happening, trail.begins(happening)));
  }

  @Override
  public void ended(Context ctx, String route) {
    Optional<Begun> begun = Optional.ofNullable(ctx.attribute(BEGUN));
    Optional<SignedIn> visitor = Visit.signedIn(ctx);
    // somebody whose session is over is sent to sign in and sees nothing
    boolean sentAway = begun.isEmpty() && visitor.isEmpty() && ctx.statusCode() == 303;
    if (!sentAway) {
      Happening happening = begun.map(Begun::happening).orElseGet(() -> happening(ctx, route, clock.instant()));
      trail.ended(
          Trail.cameIn(ctx).map(id -> by(happening, id)).orElse(happening),
          begun.map(Begun::lines).orElse(List.of()), ctx.statusCode());
    }
  }

  private static Happening by(Happening h, UUID who) {
    return new Happening(h.at(), h.route(), Optional.of(who), h.role(), h.path(), h.fields(), h.address(), h.request());
  }

  private Happening happening(Context ctx, String route, Instant at) {
    Optional<Person> who = Visit.signedIn(ctx).map(SignedIn::person);
    boolean sent = route.startsWith("POST ");
    List<String> fields =
        trail.field(route).map(name -> sent ? ctx.formParams(name) : ctx.queryParams(name)).orElse(List.of());
    return new Happening(
        at, route, who.map(Person::id), who.map(p -> p.role().word()).orElse(""), Map.copyOf(ctx.pathParamMap()), fields,
        Trail.from(ctx), Trail.request(ctx));
  }
}
