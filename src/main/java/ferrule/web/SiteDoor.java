package ferrule.web;

import ferrule.site.Site;
import jakarta.servlet.Filter;
import jakarta.servlet.FilterChain;
import jakarta.servlet.Servlet;
import jakarta.servlet.ServletException;
import jakarta.servlet.ServletRequest;
import jakarta.servlet.ServletResponse;
import jakarta.servlet.http.Cookie;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.Arrays;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Hands each request to the site that its browser is at, before anything else sees it: sites share a door and nothing
 * behind it. A browser is at the first site until it follows an address that starts with {@code /at/} and a site's name;
 * what comes after the name is where it goes on to there. A cookie remembers the site; it lets nobody in, because whoever
 * has no session at that site has nothing there.
 */
final class SiteDoor implements Filter {

  private static final Logger LOG = LoggerFactory.getLogger(SiteDoor.class);
  private static final String PREFIX = "/at/";
  private static final String PLAIN_COOKIE = "ferrule_site";
  private static final int YEAR_SECONDS = 365 * 24 * 3600;

  private final Sites sites;
  private final Function<Hosted, Servlet> build;
  private final boolean behindTls;
  private final String cookieName;
  // the servlet of each site but the first, which stands behind this filter
  private final Map<String, Servlet> others = new ConcurrentHashMap<>();

  /**
   * A door to these sites.
   *
   * @param build what answers for a site that is asked for the first time
   */
  SiteDoor(Sites sites, Function<Hosted, Servlet> build, boolean behindTls) {
    this.sites = sites;
    this.build = build;
    this.behindTls = behindTls;
    this.cookieName = (behindTls ? "__Host-" : "") + PLAIN_COOKIE;
  }

  /** The path by which a link that leaves the house leads to a page of this site. */
  static String path(Site site, String path) {
    return PREFIX + site.name() + path;
  }

  @Override
  public void doFilter(ServletRequest request, ServletResponse response, FilterChain first)
      throws IOException, ServletException {
    HttpServletRequest asked = (HttpServletRequest) request;
    HttpServletResponse answer = (HttpServletResponse) response;
    String path = asked.getRequestURI();
    // what the door answers by itself says the same as every page; a page sets them once more
    WebServer.headers(behindTls).forEach(answer::setHeader);
    try {
      if (path.startsWith(PREFIX) && goIn(asked, answer)) {
        return;
      }
      // static files are the same everywhere
      Optional<Servlet> other = path.startsWith("/static/") ? Optional.empty() : place(asked).flatMap(this::other);
      if (other.isPresent()) {
        other.get().service(request, response);
      } else {
        first.doFilter(request, response);
      }
    } catch (Unopened e) {
      LOG.error("the site cannot be opened", e);
      answer.setStatus(HttpServletResponse.SC_SERVICE_UNAVAILABLE);
      answer.setContentType("text/plain; charset=utf-8");
      answer.getWriter().write("This site cannot be opened just now. Try again in a minute.");
    }
  }

  /** Sends a browser into the site that the address names; false if it names none. */
  private boolean goIn(HttpServletRequest asked, HttpServletResponse answer) {
    String[] parts = asked.getRequestURI().substring(PREFIX.length()).split("/", 2);
    boolean known = parts[0].equals(Site.FIRST) || other(parts[0]).isPresent();
    if (known) {
      Cookie cookie = new Cookie(cookieName, parts[0]);
      cookie.setPath("/");
      cookie.setHttpOnly(true);
      cookie.setSecure(behindTls);
      cookie.setMaxAge(YEAR_SECONDS);
      cookie.setAttribute("SameSite", "Lax");
      answer.addCookie(cookie);
      answer.setHeader("Cache-Control", "no-store");
      answer.setHeader("Location", within(parts.length < 2 ? "" : parts[1], asked.getQueryString()));
      answer.setStatus(HttpServletResponse.SC_SEE_OTHER);
    }
    return known;
  }

  // never the address of another host: "//example.org" would be one
  private static String within(String rest, String query) {
    return "/" + rest.replaceFirst("^[/\\\\]+", "") + (query == null ? "" : "?" + query);
  }

  private Optional<String> place(HttpServletRequest asked) {
    return Stream.ofNullable(asked.getCookies())
        .flatMap(Arrays::stream)
        .filter(cookie -> cookie.getName().equals(cookieName))
        .map(Cookie::getValue)
        .findFirst();
  }

  private Optional<Servlet> other(String name) {
    if (name.equals(Site.FIRST) || !Site.isName(name)) {
      return Optional.empty();
    }
    Servlet open = others.get(name);
    return open != null ? Optional.of(open) : Optional.ofNullable(others.computeIfAbsent(name, this::opened));
  }

  private Servlet opened(String name) {
    try {
      return sites.open(name).map(build).orElse(null);
    } catch (RuntimeException e) {
      throw new Unopened(name, e);
    }
  }

  /** A site that is there but does not open, as when its database is gone. */
  private static final class Unopened extends RuntimeException {

    private static final long serialVersionUID = 1L;

    Unopened(String name, RuntimeException cause) {
      super(name, cause);
    }
  }
}
