#include "server/http/listener.hpp"

#include "server/http/session.hpp"

#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/executor_work_guard.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <exception>
#include <thread>
#include <vector>

namespace stanch::server {
namespace {

namespace net = boost::asio;
using boost::system::error_code;
using net::ip::tcp;

// Beyond the limit so many more are still told why; beyond that they are closed unheard.
constexpr std::size_t max_refused = 256;

struct Loop {
  Sessions sessions;  // outlives the context, whose end destroys the connections still open
  net::io_context context{1};
  net::executor_work_guard<net::io_context::executor_type> work{context.get_executor()};
  std::thread thread;
};

}  // namespace

struct Listener::Engine {
  Engine(Site& site, Bell& bell, Log& log, const ListenerLimits& limits, Identity* identity)
      : world{site, bell, log, limits, identity} {}

  net::awaitable<void> accept() {
    for (std::size_t next = 0; !world.stopping; next = (next + 1) % loops.size()) {
      Loop& loop = *loops[next];
      error_code error;
      tcp::socket socket =
          co_await acceptor->async_accept(loop.context, net::redirect_error(net::use_awaitable, error));
      if (error == net::error::operation_aborted) co_return;
      if (error) {  // no file left, say: wait for one instead of spinning
        net::steady_timer pause(acceptor->get_executor(), std::chrono::milliseconds(100));
        co_await pause.async_wait(net::redirect_error(net::use_awaitable, error));
        continue;
      }
      const std::size_t held = world.connections++;
      if (held >= world.limits.max_connections + max_refused) {
        --world.connections;
        continue;
      }
      net::co_spawn(loop.context,
                    serve_connection(std::move(socket), world, loop.sessions, held >= world.limits.max_connections),
                    [this](const std::exception_ptr& failure) { tell(failure); });
    }
  }

  /// A connection ended by an exception is our mistake: say so and go on with the others.
  void tell(const std::exception_ptr& failure) const {
    if (!failure) return;
    try {
      std::rethrow_exception(failure);
    } catch (const std::exception& what) {
      world.log.write("failure", {{"what", what.what()}});
    }
  }

  SessionWorld world;
  std::vector<std::unique_ptr<Loop>> loops;
  std::unique_ptr<tcp::acceptor> acceptor;
};

Listener::Listener(Site& site, Bell& bell, Log& log, const ListenerLimits& limits, Identity* identity)
    : engine_(std::make_unique<Engine>(site, bell, log, limits, identity)) {}

Listener::~Listener() { stop(std::chrono::seconds(0)); }

tl::expected<std::uint16_t, std::string> Listener::start(const std::string& address, std::uint16_t port,
                                                         std::size_t threads) {
  const auto fail = [&](const error_code& error) {
    return tl::unexpected("Can't listen on " + address + " port " + std::to_string(port) + ": " + error.message() +
                          ".");
  };
  error_code error;
  const auto parsed = net::ip::make_address(address, error);
  if (error) return tl::unexpected("--bind is " + address + "; it must be an IP address like 127.0.0.1 or 0.0.0.0.");
  for (std::size_t i = 0; i < threads; ++i) engine_->loops.push_back(std::make_unique<Loop>());
  auto acceptor = std::make_unique<tcp::acceptor>(engine_->loops.front()->context);
  const tcp::endpoint endpoint(parsed, port);
  acceptor->open(endpoint.protocol(), error);
  if (!error) acceptor->set_option(tcp::acceptor::reuse_address(true), error);
  if (!error) acceptor->bind(endpoint, error);
  if (!error) acceptor->listen(net::socket_base::max_listen_connections, error);
  if (error) return fail(error);
  const std::uint16_t bound = acceptor->local_endpoint(error).port();
  if (error) return fail(error);
  engine_->acceptor = std::move(acceptor);
  Engine* engine = engine_.get();
  net::co_spawn(engine->loops.front()->context, engine->accept(), net::detached);
  for (const auto& loop : engine_->loops) loop->thread = std::thread([context = &loop->context] { context->run(); });
  return bound;
}

void Listener::stop(std::chrono::seconds patience) {
  Engine& engine = *engine_;
  if (engine.loops.empty() || engine.world.stopping.exchange(true)) return;
  if (engine.acceptor) {
    net::post(engine.loops.front()->context, [&engine] {
      error_code ignored;
      engine.acceptor->close(ignored);
    });
  }
  engine.world.bell.ring();
  for (const auto& loop : engine.loops)
    net::post(loop->context, [sessions = &loop->sessions] {
      for (Session* session : Sessions(*sessions)) session->wind_up();
    });
  const auto deadline = std::chrono::steady_clock::now() + patience;
  while (engine.world.connections > 0 && std::chrono::steady_clock::now() < deadline)
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  for (const auto& loop : engine.loops) {
    loop->context.stop();
    if (loop->thread.joinable()) loop->thread.join();
  }
}

}  // namespace stanch::server
